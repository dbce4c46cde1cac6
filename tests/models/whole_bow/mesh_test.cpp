// A bow whose limbs and riser are meshes from files against the same bow with the program's own meshes.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>

#include "models/bow/bow_file.hpp"
#include "models/bow/bow_writer.hpp"
#include "models/parts/limb_shells.hpp"
#include "models/parts/riser_surface.hpp"
#include "models/states/beam_shell_comparison.hpp"
#include "tests/postproc/outside.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::whole_bow_mesh_test {
namespace {

using meshes::Surface;

std::string array(const std::string& type, const std::string& name, const std::string& values,
                  int components = 1) {
    return fmt::format(
        "<DataArray type=\"{}\" Name=\"{}\" NumberOfComponents=\"{}\" format=\"ascii\">{}</DataArray>\n",
        type, name, components, values);
}

std::string words(const Vec3& v) {
    return fmt::format("{:.17g} {:.17g} {:.17g} ", v.x(), v.y(), v.z());
}

/// The surface as a VTK file of text.
std::string vtu(const Surface& surface) {
    std::string points, corners, offsets, types, thickness, direction, sets;
    for (const solver::Pose& node : surface.nodes) points += words(node.position);
    int offset = 0;
    for (const meshes::SurfaceCell& cell : surface.cells) {
        for (int k = 0; k < cell.count(); ++k)
            corners += fmt::format("{} ", cell.corners[static_cast<std::size_t>(k)]);
        offsets += fmt::format("{} ", offset += cell.count());
        types += cell.count() == 4 ? "9 " : "5 ";
        thickness += fmt::format("{:.17g} ", cell.thickness);
        direction += words(cell.direction);
    }
    for (const auto& [name, nodes] : surface.sets) {
        std::vector<int> members(surface.nodes.size(), 0);
        for (const int node : nodes) members[static_cast<std::size_t>(node)] = 1;
        sets += array("Int32", name, fmt::format("{}", fmt::join(members, " ")));
    }
    return fmt::format(
        "<VTKFile type=\"UnstructuredGrid\" version=\"1.0\" byte_order=\"LittleEndian\" "
        "header_type=\"UInt64\">\n"
        "<UnstructuredGrid>\n<Piece NumberOfPoints=\"{}\" NumberOfCells=\"{}\">\n<PointData>{}</PointData>\n"
        "<CellData>{}{}</CellData>\n<Points>{}</Points>\n<Cells>{}{}{}</Cells>\n</Piece>\n</"
        "UnstructuredGrid>\n"
        "</VTKFile>\n",
        surface.nodes.size(), surface.cells.size(), sets, array("Float64", "thickness", thickness),
        array("Float64", "direction", direction, 3), array("Float64", "Points", points, 3),
        array("Int64", "connectivity", corners), array("Int64", "offsets", offsets),
        array("UInt8", "types", types));
}

/// Nodes across the plate at a height of its line.
std::vector<int> row_at(const Surface& plate, const std::vector<RiserStation>& line, double height) {
    std::size_t i = 1;
    while (std::abs(line[i].position.z() - height) > 1e-9) ++i;
    const Vec3 along = (line[i + 1].position - line[i - 1].position).normalized();
    std::vector<int> row;
    for (std::size_t k = 0; k < plate.nodes.size(); ++k)
        if (std::abs(along.dot(plate.nodes[k].position - line[i].position)) < 0.3)
            row.push_back(static_cast<int>(k));
    return row;
}

TEST(BowOfMeshes, DrawsAsTheBowOfTheProgramsOwnMeshes) {
    Bow bow = testing::small_bow();
    bow.limb.model = bow.riser.model = PartModel::shell;
    bow.limb.shells = 10;
    bow.limb.shells_across = 4;
    bow.riser.shells = 16;
    bow.riser.shells_across = 2;
    bow.shooter.states = 4;

    const double guide = bow.guide.position.z();
    Surface riser = riser_surface(bow.riser, {guide});
    const std::vector<RiserStation> line = mounted_line(bow.riser, {guide});
    riser.sets = {{"pocket bottom", riser.sets.at("bottom")},
                  {"pocket top", riser.sets.at("top")},
                  {"grip", row_at(riser, line, 0)},
                  {"guide", row_at(riser, line, guide)}};
    Surface limb =
        limb_surface(bow.limb, {.end = End::top, .name = {}, .root = {}, .root_frame = {}, .tip_frames = {}});
    limb.sets.erase("line");

    const tests::TemporaryFolder folder;
    std::ofstream(folder / "riser.vtu") << vtu(riser);
    std::ofstream(folder / "limb.vtu") << vtu(limb);
    Bow written = bow;
    written.riser.mesh = PartMesh{"riser.vtu", {}};
    written.limb.mesh = PartMesh{"limb.vtu", {}};
    std::ofstream(folder / "bow.toml") << bow_to_toml(written);
    const Bow read = read_bow(folder / "bow.toml");
    ASSERT_TRUE(read.riser.mesh && read.riser.mesh->surface);
    ASSERT_EQ(read.limb.mesh->surface->cells.size(), limb.cells.size());

    const ModelChoice shells{PartModel::shell, PartModel::shell, Warping::held};
    const auto own_answer = run_model(bow, shells), file_answer = run_model(read, shells);
    const ModelRun &own = std::get<ModelRun>(own_answer), &file = std::get<ModelRun>(file_answer);
    ASSERT_EQ(own.draw.states.size(), file.draw.states.size());
    double peak = 0;
    for (const DrawState& s : own.draw.states) peak = std::max(peak, s.force);
    for (std::size_t i = 0; i < own.draw.states.size(); ++i)
        // The plate turns at the grip, where a mesh from a file gets normals that are means of its cells'; in
        // a plane plate and straight limbs these are the same, and what is left is rounding in the written
        // numbers.
        EXPECT_NEAR(own.draw.states[i].force, file.draw.states[i].force, 1e-6 * peak) << "state " << i;
}

}  // namespace
}  // namespace limbwright::models::whole_bow_mesh_test
