#include "meshes/mesh_file.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <stdexcept>

#include "tests/postproc/outside.hpp"
#include "tests/support/complaint.hpp"

namespace limbwright::meshes::mesh_file_test {
namespace {

using tests::TemporaryFolder;

std::string array(const std::string& type, const std::string& name, const std::string& values,
                  int components = 1) {
    return fmt::format(
        "<DataArray type=\"{}\" Name=\"{}\" NumberOfComponents=\"{}\" format=\"ascii\">{}</DataArray>\n",
        type, name, components, values);
}

/// A field array tells how many values it has.
std::string field_array(const std::string& name, const std::string& values, int count) {
    return fmt::format(
        "<DataArray type=\"Int64\" Name=\"{}\" NumberOfTuples=\"{}\" format=\"ascii\">{}</DataArray>\n", name,
        count, values);
}

/// A quad and a triangle that share the edge 1-2, and point 4, which no cell uses:
///
///     3 --- 2
///     |     |  \       (4)
///     0 --- 1 --- 5
struct Vtu {
    std::string points = "0 0 0  10 0 0  10 8 0  0 8 0  99 99 99  18 0 1";
    std::string corners = "0 1 2 3  1 5 2";
    std::string offsets = "4 7";
    std::string types = "9 5";
    std::string cell_arrays = array("Float64", "thickness", "2.5 3");
    std::string point_arrays{};
    std::string field_arrays{};

    [[nodiscard]] std::string text() const {
        return fmt::format(
            "<VTKFile type=\"UnstructuredGrid\" version=\"1.0\" byte_order=\"LittleEndian\" "
            "header_type=\"UInt64\">\n<UnstructuredGrid>\n<FieldData>{}</FieldData>\n"
            "<Piece NumberOfPoints=\"6\" NumberOfCells=\"2\">\n"
            "<PointData>{}</PointData>\n<CellData>{}</CellData>\n<Points>{}</Points>\n"
            "<Cells>{}{}{}</Cells>\n</Piece>\n</UnstructuredGrid>\n</VTKFile>\n",
            field_arrays, point_arrays, cell_arrays, array("Float64", "Points", points, 3),
            array("Int64", "connectivity", corners), array("Int64", "offsets", offsets),
            array("UInt8", "types", types));
    }
};

Surface read(const Vtu& vtu) {
    const TemporaryFolder folder;
    std::ofstream(folder / "plate.vtu") << vtu.text();
    return read_surface(folder / "plate.vtu");
}

/// What the reader says of a file, without the file's name, with which it must begin.
std::string complaint_about(const std::string& text, const std::string& name = "plate.vtu") {
    const TemporaryFolder folder;
    const std::string file = folder / name;
    std::ofstream(file) << text;
    const std::string said = testing::complaint<std::runtime_error>([&] { (void)read_surface(file); });
    EXPECT_TRUE(said.starts_with(file + ": ")) << said;
    return said.substr(std::min(said.size(), file.size() + 2));
}

std::string complaint_about(const Vtu& vtu) {
    return complaint_about(vtu.text());
}

TEST(MeshFile, VtkIsNotLoadedBeforeAFileIsRead) {
    const auto is_loaded = [] {
        return tests::content("/proc/self/maps").find("libvtk") != std::string::npos;
    };
    EXPECT_FALSE(is_loaded());
    (void)read({});
    EXPECT_TRUE(is_loaded());
}

TEST(MeshFile, NodesAreTheCellsCornersInTheFilesOrder) {
    const Surface surface = read({});
    ASSERT_EQ(surface.nodes.size(), 5u);
    EXPECT_EQ(surface.nodes[2].position, Vec3(10, 8, 0));
    EXPECT_EQ(surface.nodes[4].position, Vec3(18, 0, 1));
    EXPECT_EQ(surface.nodes[4].rotation.matrix(), solver::Mat3::Identity());
    ASSERT_EQ(surface.cells.size(), 2u);
    EXPECT_EQ(surface.cells[0].corners, (std::array{0, 1, 2, 3}));
    EXPECT_EQ(surface.cells[1].corners, (std::array{1, 4, 2, -1}));
    EXPECT_EQ(surface.cells[1].count(), 3);
}

TEST(MeshFile, NormalsAreLeftZero) {
    for (const SurfaceCell& cell : read({}).cells)
        for (const Vec3& normal : cell.normals) EXPECT_EQ(normal, Vec3(0, 0, 0));
}

TEST(MeshFile, ThicknessIsTheCellsOwn) {
    const Surface surface = read({});
    EXPECT_EQ(surface.cells[0].thickness, 2.5);
    EXPECT_EQ(surface.cells[1].thickness, 3);
}

TEST(MeshFile, ThicknessOfPointsIsAveragedOverTheCorners) {
    const Surface surface =
        read({.cell_arrays = {}, .point_arrays = array("Float32", "thickness", "1 2 3 4 99 7")});
    EXPECT_DOUBLE_EQ(surface.cells[0].thickness, (1 + 2 + 3 + 4) / 4.);
    EXPECT_DOUBLE_EQ(surface.cells[1].thickness, (2 + 7 + 3) / 3.);
}

TEST(MeshFile, DirectionIsXUnlessTheFileGivesOne) {
    EXPECT_EQ(read({}).cells[1].direction, Vec3(1, 0, 0));
    Vtu vtu;
    vtu.cell_arrays += array("Float64", "direction", "0 2 0  0 0 -1", 3);
    const Surface surface = read(vtu);
    EXPECT_EQ(surface.cells[0].direction, Vec3(0, 1, 0));
    EXPECT_EQ(surface.cells[1].direction, Vec3(0, 0, -1));
}

TEST(MeshFile, SetsAreMarksOnPointsOrListsOfPoints) {
    const Surface surface = read({.point_arrays = array("Int32", "pocket top", "1 0 0 1 0 0"),
                                  .field_arrays = field_array("tip", "5 1 5 4", 4)});
    ASSERT_EQ(surface.sets.size(), 2u);
    EXPECT_EQ(surface.sets.at("pocket top"), (std::vector{0, 3}));
    EXPECT_EQ(surface.sets.at("tip"), (std::vector{1, 4}));  // point 4 is left out, point 5 is node 4
}

TEST(MeshFile, OtherArraysAreNoSets) {
    const Surface surface = read({.point_arrays = array("Int32", "material", "1 0 2 1 0 0") +
                                                  array("Float64", "height", "1 0 0 1 0 0")});
    EXPECT_TRUE(surface.sets.empty());
}

TEST(MeshFile, RefusesAFileThatIsNotThere) {
    EXPECT_EQ(testing::complaint<std::runtime_error>([] { (void)read_surface("/no/plate.vtu"); }),
              "/no/plate.vtu: there is no such file");
}

TEST(MeshFile, RefusesOtherEndings) {
    EXPECT_EQ(complaint_about("", "plate.stl"), "wanted a file that ends in .vtu or .vtk, found \".stl\"");
}

TEST(MeshFile, NamesCellsOfOtherTypes) {
    EXPECT_EQ(complaint_about(Vtu{.types = "10 5"}),
              "wanted cells vtkTriangle (5) and vtkQuad (9) only, found vtkTetra (10)");
}

TEST(MeshFile, RefusesACellOfTooManyOrTooFewCorners) {
    EXPECT_EQ(complaint_about(Vtu{.corners = "0 1 2 3 4  1 5 2", .offsets = "5 8"}),
              "cell 0: wanted 4 corners, found 5");
    EXPECT_EQ(complaint_about(Vtu{.corners = "0 1 2 3  1 5 2 4", .offsets = "4 8"}),
              "cell 1: wanted 3 corners, found 4");
    EXPECT_EQ(complaint_about(Vtu{.corners = "0 1 2 3  1 5", .offsets = "4 6"}),
              "cell 1: wanted 3 corners, found 2");
    std::string many;  // far past the end of the cell that is read into
    for (int i = 0; i < 55; ++i) many += "0 ";
    EXPECT_EQ(complaint_about(Vtu{.corners = many + "1 5 2", .offsets = "55 58"}),
              "cell 0: wanted 4 corners, found 55");
}

TEST(MeshFile, RefusesACornerBeyondThePoints) {
    EXPECT_EQ(complaint_about(Vtu{.corners = "0 1 2 3  1 6 2"}),
              "cell 1: wanted points 0 to 5 as corners, found 6");
}

TEST(MeshFile, RefusesAPointThatIsNoPlace) {
    EXPECT_EQ(complaint_about(Vtu{.points = "0 0 0  10 0 0  10 8 0  0 8 nan  99 99 99  18 0 1"}),
              "point 3: wanted a position [mm], found (0, 8, nan)");
}

TEST(MeshFile, AsksForAThicknessAndTellsWhatItFound) {
    EXPECT_EQ(complaint_about(Vtu{.cell_arrays = array("Float64", "t", "1 1") + array("Int32", "id", "1 2")}),
              "wanted a cell array \"thickness\" [mm] or a point array of that name, found cell arrays "
              "\"t\", \"id\" and point arrays none");
}

TEST(MeshFile, RefusesAThicknessThatIsNotPositive) {
    EXPECT_EQ(complaint_about(Vtu{.cell_arrays = array("Float64", "thickness", "2 0")}),
              "cell 1: wanted a positive thickness [mm], found 0");
}

TEST(MeshFile, RefusesAThicknessOfSeveralComponents) {
    EXPECT_EQ(complaint_about(Vtu{.cell_arrays = array("Float64", "thickness", "1 2 3 4", 2)}),
              "cell array \"thickness\": wanted 1 component, found 2");
}

TEST(MeshFile, RefusesADirectionThatIsNone) {
    Vtu vtu;
    vtu.cell_arrays += array("Float64", "direction", "1 0 0  0 0 0", 3);
    EXPECT_EQ(complaint_about(vtu), "cell 1: wanted a direction, found (0, 0, 0)");
}

TEST(MeshFile, RefusesADirectionOfTwoComponents) {
    Vtu vtu;
    vtu.cell_arrays += array("Float64", "direction", "1 0  1 0", 2);
    EXPECT_EQ(complaint_about(vtu), "cell array \"direction\": wanted 3 components, found 2");
}

TEST(MeshFile, RefusesAListedPointThatIsNotThere) {
    EXPECT_EQ(complaint_about(Vtu{.field_arrays = field_array("root", "0 6", 2)}),
              "field array \"root\": wanted points 0 to 5, found 6");
}

TEST(MeshFile, RefusesASetGivenTwice) {
    EXPECT_EQ(complaint_about(Vtu{.point_arrays = array("Int32", "root", "1 0 0 0 0 0"),
                                  .field_arrays = field_array("root", "0", 1)}),
              "wanted one set \"root\", found it among both point and field arrays");
}

}  // namespace
}  // namespace limbwright::meshes::mesh_file_test
