#include "postproc/files/vtk_file.hpp"

#include <gtest/gtest.h>
#include <vtkCellData.h>
#include <vtkCellType.h>
#include <vtkCompositeDataSet.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkInformation.h>
#include <vtkMultiBlockDataSet.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkXMLMultiBlockDataReader.h>
#include <vtkXMLPolyDataReader.h>

#include <array>
#include <limits>
#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::vtk_file_test {
namespace {

using tests::content;
using tests::TemporaryFolder;

constexpr double third = 1.0 / 3.0;  // not to be held by a float

std::vector<Scene> two_scenes() {
    const std::vector<Vec3> string{{third, 0, 0}, {0, third, 0}, {0, 0, third}};
    const std::vector<SweptStation> limb{{Vec3(0, 0, 0), Mat3::Identity(), 4, 2},
                                         {Vec3(9, 0, 0), Mat3::Identity(), 4, 2}};
    Piece string_piece = polyline("string", string, {{"tension", "N", 1, {third, 400, -1e-300}}});
    string_piece.point_fields.push_back({"displacement", "mm", 3, {1, 2, 3, 4, 5, 6, 7, 8, third}});
    const Piece limb_piece =
        swept("limb top left", limb, SectionShape::rectangle, {{"strain", "", 1, {1e-3, 2e-3}}});
    return {{0, {string_piece, limb_piece}}, {1000 * third, {string_piece, limb_piece}}};
}

vtkNew<vtkXMLMultiBlockDataReader> read(const std::filesystem::path& file) {
    vtkNew<vtkXMLMultiBlockDataReader> reader;
    reader->SetFileName(file.c_str());
    reader->Update();
    return reader;
}

vtkMultiBlockDataSet* blocks_of(vtkXMLMultiBlockDataReader* reader) {
    return vtkMultiBlockDataSet::SafeDownCast(reader->GetOutput());
}

TEST(VtkFile, BlocksKeepTheirNames) {
    const TemporaryFolder folder;
    write_vtk(folder / "draw.pvd", two_scenes());
    const auto reader = read(folder / "draw_states/state_0001.vtm");
    vtkMultiBlockDataSet* blocks = blocks_of(reader);
    ASSERT_EQ(blocks->GetNumberOfBlocks(), 2);
    EXPECT_STREQ(blocks->GetMetaData(0u)->Get(vtkCompositeDataSet::NAME()), "string");
    EXPECT_STREQ(blocks->GetMetaData(1u)->Get(vtkCompositeDataSet::NAME()), "limb top left");
}

TEST(VtkFile, PointsAndFieldsComeBackToTheLastDigit) {
    const TemporaryFolder folder;
    write_vtk(folder / "draw.pvd", two_scenes());
    const auto reader = read(folder / "draw_states/state_0000.vtm");
    vtkPolyData* string = vtkPolyData::SafeDownCast(blocks_of(reader)->GetBlock(0));
    ASSERT_NE(string, nullptr);
    ASSERT_EQ(string->GetNumberOfPoints(), 3);
    EXPECT_EQ(string->GetPoint(1)[1], third);
    EXPECT_EQ(string->GetNumberOfLines(), 1);

    vtkDoubleArray* tension = vtkDoubleArray::SafeDownCast(string->GetPointData()->GetArray("tension [N]"));
    ASSERT_NE(tension, nullptr);
    EXPECT_EQ(tension->GetValue(0), third);
    EXPECT_EQ(tension->GetValue(2), -1e-300);
    vtkDoubleArray* displacement =
        vtkDoubleArray::SafeDownCast(string->GetPointData()->GetArray("displacement [mm]"));
    ASSERT_NE(displacement, nullptr);
    EXPECT_EQ(displacement->GetNumberOfComponents(), 3);
    EXPECT_EQ(displacement->GetComponent(1, 2), 6);
    EXPECT_EQ(displacement->GetComponent(2, 2), third);
}

TEST(VtkFile, ACrossSectionIsClosedByItsQuads) {
    const TemporaryFolder folder;
    write_vtk(folder / "draw.pvd", two_scenes());
    vtkNew<vtkXMLPolyDataReader> reader;
    reader->SetFileName((folder / "draw_states/state_0000/state_0000_1.vtp").c_str());
    reader->Update();
    EXPECT_EQ(reader->GetOutput()->GetNumberOfPolys(), 6);
    EXPECT_EQ(reader->GetOutput()->GetNumberOfPoints(), 8);
    EXPECT_EQ(reader->GetOutput()->GetPointData()->GetArray("strain")->GetTuple1(7), 2e-3);
}

/// A line, a quad and a triangle; the cells' field numbers them in this order.
Piece one_cell_of_each_kind() {
    Piece piece;
    piece.name = "wall";
    piece.points = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}};
    piece.triangles = {{0, 2, 3}};
    piece.quads = {{0, 1, 2, 3}};
    piece.lines = {{0, 1}};
    piece.cell_fields = {{"number", "", 1, {0, 1, 2}},
                         {"stress", "MPa", 6, {1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, third}}};
    return piece;
}

TEST(VtkFile, CellFieldsStandAtTheirCells) {
    const TemporaryFolder folder;
    write_vtk(folder / "draw.pvd", std::vector<Scene>{{0, {one_cell_of_each_kind()}}});
    vtkNew<vtkXMLPolyDataReader> reader;
    reader->SetFileName((folder / "draw_states/state_0000/state_0000_0.vtp").c_str());
    reader->Update();
    vtkPolyData* wall = reader->GetOutput();
    ASSERT_EQ(wall->GetNumberOfCells(), 3);
    const std::array types{VTK_LINE, VTK_QUAD, VTK_TRIANGLE};
    for (vtkIdType c = 0; c < 3; ++c) {
        const auto number = static_cast<std::size_t>(wall->GetCellData()->GetArray("number")->GetTuple1(c));
        EXPECT_EQ(wall->GetCellType(c), types[number]);
    }
    vtkDataArray* stress = wall->GetCellData()->GetArray("stress [MPa]");
    ASSERT_EQ(stress->GetNumberOfComponents(), 6);
    EXPECT_EQ(stress->GetComponent(0, 5), 6);
    EXPECT_EQ(stress->GetComponent(2, 5), third);
}

TEST(VtkFile, ACellFieldMustFitTheCells) {
    const TemporaryFolder folder;
    Piece piece = one_cell_of_each_kind();
    piece.cell_fields[0].values.push_back(3);
    EXPECT_THROW(write_vtk(folder / "draw.pvd", std::vector<Scene>{{0, {piece}}}), std::invalid_argument);
    EXPECT_EQ(folder.entries(), 0);
}

TEST(VtkFile, TimeIsTheDraw) {
    const TemporaryFolder folder;
    write_vtk(folder / "draw.pvd", two_scenes());
    const std::string collection = content(folder / "draw.pvd");
    EXPECT_NE(
        collection.find("timestep=\"333.3333333333333\" part=\"0\" file=\"draw_states/state_0001.vtm\""),
        std::string::npos)
        << collection;
    EXPECT_TRUE(tests::parsed_as_xml(collection).succeeded);
    const auto reader = read(folder / "draw_states/state_0001.vtm");
    vtkDataArray* time = blocks_of(reader)->GetBlock(0)->GetFieldData()->GetArray("TimeValue");
    ASSERT_NE(time, nullptr);
    EXPECT_EQ(time->GetTuple1(0), 1000 * third);
}

TEST(VtkFile, EveryFileOfTheCollectionExists) {
    const TemporaryFolder folder;
    write_vtk(folder / "a & b.pvd", two_scenes());
    EXPECT_TRUE(tests::parsed_as_xml(content(folder / "a & b.pvd")).succeeded);
    EXPECT_TRUE(std::filesystem::exists(folder / "a & b_states/state_0000.vtm"));
    EXPECT_NE(blocks_of(read(folder / "a & b_states/state_0001.vtm"))->GetBlock(1), nullptr);
    EXPECT_EQ(folder.entries(), 2);
}

TEST(VtkFile, ValuesAreCompressed) {
    const TemporaryFolder folder;
    write_vtk(folder / "draw.pvd", two_scenes());
    const std::string piece = content(folder / "draw_states/state_0000/state_0000_0.vtp");
    EXPECT_NE(piece.find("vtkZLibDataCompressor"), std::string::npos);
    EXPECT_NE(piece.find("format=\"binary\""), std::string::npos);
}

TEST(VtkFile, AShorterDrawLeavesNoOldStatesBehind) {
    const TemporaryFolder folder;
    std::vector<Scene> scenes = two_scenes();
    write_vtk(folder / "draw.pvd", scenes);
    scenes.pop_back();
    write_vtk(folder / "draw.pvd", scenes);
    EXPECT_FALSE(std::filesystem::exists(folder / "draw_states/state_0001.vtm"));
    EXPECT_EQ(content(folder / "draw.pvd").find("state_0001"), std::string::npos);
}

TEST(VtkFile, AFailureHalfwayKeepsTheOldFiles) {
    const TemporaryFolder folder;
    std::vector<Scene> scenes = two_scenes();
    write_vtk(folder / "draw.pvd", scenes);
    const std::string old_collection = content(folder / "draw.pvd");
    const std::string old_state = content(folder / "draw_states/state_0000/state_0000_0.vtp");
    scenes[0].pieces[0].points[0].x() = 77;
    scenes[1].parameter = 5;
    scenes[1].pieces[0].point_fields[0].values.pop_back();
    EXPECT_THROW(write_vtk(folder / "draw.pvd", scenes), std::invalid_argument);
    EXPECT_EQ(content(folder / "draw.pvd"), old_collection);
    EXPECT_EQ(content(folder / "draw_states/state_0000/state_0000_0.vtp"), old_state);
    EXPECT_EQ(folder.entries(), 2);
}

TEST(VtkFile, LeavesAFolderWithOtherThingsAlone) {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder / "draw_states");
    std::ofstream(folder / "draw_states/notes.txt") << "mine";
    EXPECT_THROW(write_vtk(folder / "draw.pvd", two_scenes()), std::runtime_error);
    EXPECT_EQ(content(folder / "draw_states/notes.txt"), "mine");
    EXPECT_FALSE(std::filesystem::exists(folder / "draw.pvd"));
}

}  // namespace
}  // namespace limbwright::postproc::vtk_file_test
