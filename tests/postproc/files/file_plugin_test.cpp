#include "postproc/files/file_plugin.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::file_plugin_test {
namespace {

bool is_mapped(const std::string& library) {
    return tests::content("/proc/self/maps").find(library) != std::string::npos;
}

TEST(LateFiles, NothingOfVtkOrHdf5IsLoadedBeforeItIsAskedFor) {
    EXPECT_FALSE(is_mapped("libvtk"));
    EXPECT_FALSE(is_mapped("libhdf5"));
    (void)file_writers();
    EXPECT_TRUE(is_mapped("libvtk"));
    EXPECT_TRUE(is_mapped("libhdf5"));
}

TEST(LateFiles, WritesBothKinds) {
    const tests::TemporaryFolder folder;
    const std::vector<Scene> scenes{{0, {polyline("string", {{0, 0, 0}, {0, 0, 1}})}}};
    file_writers().write_vtk(folder / "draw.pvd", scenes);
    file_writers().write_hdf5(folder / "draw.h5", {});
    EXPECT_NE(tests::content(folder / "draw.pvd").find("draw_states/state_0000.vtm"), std::string::npos);
    EXPECT_EQ(tests::content(folder / "draw.h5").substr(0, 4), "\x89HDF");
}

TEST(LateFiles, ItsFailuresAreCaughtByTheirType) {
    const tests::TemporaryFolder folder;
    EXPECT_THROW(file_writers().write_vtk(folder / "draw.txt", {}), std::invalid_argument);
    EXPECT_THROW(file_writers().write_hdf5(folder / "missing/draw.h5", {}), std::runtime_error);
}

}  // namespace
}  // namespace limbwright::postproc::file_plugin_test
