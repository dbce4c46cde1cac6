#include "meshes/vtk_surface.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <stdexcept>

#include "tests/postproc/outside.hpp"
#include "tests/support/complaint.hpp"

// Points, cells, arrays and what is refused of them: tests/meshes/mesh_file_test.cpp.
namespace limbwright::meshes::vtk_surface_test {
namespace {

using tests::TemporaryFolder;

const std::string legacy_head = "# vtk DataFile Version 3.0\na plate\nASCII\nDATASET UNSTRUCTURED_GRID\n";
const std::string two_triangles =
    "POINTS 4 double\n0 0 0  1 0 0  1 1 0  0 1 0\n"
    "CELLS 2 8\n3 0 1 2\n3 0 2 3\nCELL_TYPES 2\n5 5\n";

Surface read(const std::string& name, const std::string& text) {
    const TemporaryFolder folder;
    std::ofstream(folder / name) << text;
    return read_vtk_surface(folder / name);
}

/// What is said of a file; nothing of it may have gone past us to the terminal.
std::string complaint_about(const std::string& name, const std::string& text) {
    ::testing::internal::CaptureStderr();
    const std::string said = testing::complaint<std::runtime_error>([&] { (void)read(name, text); });
    EXPECT_EQ(::testing::internal::GetCapturedStderr(), "");
    return said;
}

TEST(VtkSurface, ReadsALegacyFileWithAllItsArrays) {
    const Surface surface = read("plate.vtk", legacy_head + two_triangles +
                                                  "CELL_DATA 2\n"
                                                  "SCALARS other double 1\nLOOKUP_TABLE default\n7 7\n"
                                                  "SCALARS thickness double 1\nLOOKUP_TABLE default\n2 3\n"
                                                  "VECTORS direction double\n0 1 0  1 1 0\n"
                                                  "POINT_DATA 4\n"
                                                  "SCALARS left%20tip int 1\nLOOKUP_TABLE default\n1 0 0 1\n"
                                                  "SCALARS root int 1\nLOOKUP_TABLE default\n0 1 0 0\n");
    ASSERT_EQ(surface.cells.size(), 2u);
    EXPECT_EQ(surface.cells[1].thickness, 3);
    EXPECT_EQ(surface.cells[0].direction, solver::Vec3(0, 1, 0));
    EXPECT_EQ(surface.cells[1].corners, (std::array{0, 2, 3, -1}));
    EXPECT_EQ(surface.sets.at("left tip"), (std::vector{0, 3}));
    EXPECT_EQ(surface.sets.at("root"), (std::vector{1}));
}

TEST(VtkSurface, ASetMayBeAFieldOfALegacyFile) {
    const Surface surface =
        read("plate.vtk", legacy_head + "FIELD sets 1\nroot 1 2 int\n2 3\n" + two_triangles +
                              "CELL_DATA 2\nFIELD arrays 1\nthickness 1 2 double\n2 3\n");
    EXPECT_EQ(surface.sets.at("root"), (std::vector{2, 3}));
    EXPECT_EQ(surface.cells[0].thickness, 2);
}

TEST(VtkSurface, RefusesAFileWithoutCells) {
    EXPECT_TRUE(complaint_about("plate.vtk", legacy_head + "POINTS 1 double\n0 0 0\n")
                    .ends_with("wanted triangles and quads, found no cell"));
}

TEST(VtkSurface, RefusesALegacyFileOfAnotherKind) {
    const std::string text =
        "# vtk DataFile Version 3.0\na line\nASCII\nDATASET POLYDATA\nPOINTS 1 double\n0 0 0\n";
    EXPECT_TRUE(complaint_about("plate.vtk", text)
                    .ends_with("wanted a legacy VTK file of an unstructured grid, found something else"));
}

TEST(VtkSurface, RefusesAnXmlFileOfAnotherKind) {
    const std::string text = "<VTKFile type=\"PolyData\" version=\"1.0\"><PolyData/></VTKFile>\n";
    EXPECT_TRUE(complaint_about("plate.vtu", text)
                    .ends_with("wanted VTK's XML file of an unstructured grid, found something else"));
}

TEST(VtkSurface, PassesOnWhatVtkSaysOfABrokenXmlFile) {
    const std::string said = complaint_about(
        "plate.vtu", "<VTKFile type=\"UnstructuredGrid\" version=\"1.0\">\n<UnstructuredGrid>\n</Piece>");
    EXPECT_NE(said.find("plate.vtu: VTK says: Error parsing XML in stream at line 3"), std::string::npos)
        << said;
}

TEST(VtkSurface, PassesOnWhatVtkSaysOfABrokenLegacyFile) {
    const std::string said =
        complaint_about("plate.vtk", legacy_head + "POINTS 4 double\n0 0 0  1 0 0  1 1 zero\n");
    EXPECT_NE(said.find("plate.vtk: VTK says: "), std::string::npos) << said;
}

}  // namespace
}  // namespace limbwright::meshes::vtk_surface_test
