#include "postproc/files/file_plugin.hpp"
#include "postproc/files/hdf5_file.hpp"
#include "postproc/files/vtk_file.hpp"

/// The writers' entry of `liblimbwright_files.so`; that of the reader stands in meshes/vtk_surface.cpp.
namespace limbwright::postproc {
namespace {

class VtkAndHdf5 final : public FileWriters {
public:
    void write_vtk(const std::filesystem::path& pvd, std::span<const Scene> scenes) const override {
        postproc::write_vtk(pvd, scenes);
    }
    void write_hdf5(const std::filesystem::path& file, const Group& root) const override {
        postproc::write_hdf5(file, root);
    }
};

}  // namespace
}  // namespace limbwright::postproc

extern "C" const limbwright::postproc::FileWriters& limbwright_file_writers();

const limbwright::postproc::FileWriters& limbwright_file_writers() {
    static const limbwright::postproc::VtkAndHdf5 writers;
    return writers;
}
