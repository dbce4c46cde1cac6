#include "postproc/scene/shell_solid.hpp"

#include <gtest/gtest.h>

#include <map>
#include <stdexcept>

#include "tests/support/piece_check.hpp"

namespace limbwright::postproc::shell_solid_test {
namespace {

using testing::cell_field_of;
using testing::field_of;
using testing::vector_at;

/// A quad, 2 mm thick, and a triangle, 4 mm thick:
///
///     3 --- 2
///     |     |  \     Y
///     0 --- 1 -- 4   o X
Piece surface() {
    Piece piece;
    piece.name = "wall";
    piece.points = {{0, 0, 0}, {10, 0, 0}, {10, 8, 0}, {0, 8, 0}, {18, 0, 0}};
    piece.quads = {{0, 1, 2, 3}};
    piece.triangles = {{1, 4, 2}};
    piece.cell_fields = {{"thickness", "mm", 1, {2, 4}}, {"force", "N/mm", 3, {1, 2, 3, 4, 5, 6}}};
    piece.point_fields = {{"displacement", "mm", 3, {0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4}}};
    return piece;
}

std::vector<std::vector<int>> cells_of(const Piece& piece) {
    std::vector<std::vector<int>> cells;
    for (const auto& quad : piece.quads) cells.emplace_back(quad.begin(), quad.end());
    for (const auto& triangle : piece.triangles) cells.emplace_back(triangle.begin(), triangle.end());
    return cells;
}

TEST(ThickPiece, IsClosedAndGoesRoundAlike) {
    std::map<std::pair<int, int>, int> edges;
    for (const std::vector<int>& cell : cells_of(thickened(surface())))
        for (std::size_t i = 0; i < cell.size(); ++i) ++edges[{cell[i], cell[(i + 1) % cell.size()]}];
    for (const auto& [edge, count] : edges) {
        EXPECT_EQ(count, 1);
        EXPECT_TRUE(edges.contains({edge.second, edge.first})) << edge.first << " " << edge.second;
    }
}

TEST(ThickPiece, ItsFacesLookOutward) {
    const Piece wall = thickened(surface());
    const Vec3 middle = testing::mean_point(wall);
    for (const std::vector<int>& cell : cells_of(wall)) {
        const Vec3& a = wall.points[cell[0]];
        const Vec3 normal = (wall.points[cell[1]] - a).cross(wall.points[cell[2]] - a);
        EXPECT_GT(normal.dot(a - middle), 0);  // the wall is convex
    }
}

TEST(ThickPiece, IsAsThickAsTheCellsRoundAPointInTheMean) {
    const Piece wall = thickened(surface());
    const std::vector<double> thickness{2, 3, 3, 2, 4};
    for (std::size_t p = 0; p < 5; ++p) {
        EXPECT_EQ(wall.points[p], surface().points[p] + Vec3(0, 0, thickness[p] / 2));
        EXPECT_EQ(wall.points[p + 5], surface().points[p] - Vec3(0, 0, thickness[p] / 2));
    }
}

TEST(ThickPiece, PointFieldsStandOnBothFaces) {
    const Piece wall = thickened(surface());
    for (std::size_t p = 0; p < 5; ++p) {
        EXPECT_EQ(vector_at(field_of(wall, "displacement"), p), Vec3::Constant(static_cast<double>(p)));
        EXPECT_EQ(vector_at(field_of(wall, "displacement"), p + 5), Vec3::Constant(static_cast<double>(p)));
    }
}

TEST(ThickPiece, AllFacesMadeOfACellHaveItsValues) {
    const Piece wall = thickened(surface());
    const std::vector<std::vector<int>> cells = cells_of(wall);
    ASSERT_EQ(cells.size(), 4u + 5u);  // two faces a cell, five edges round the rim
    for (std::size_t c = 0; c < cells.size(); ++c) {
        Vec3 centre = Vec3::Zero();
        for (const int point : cells[c]) centre += wall.points[point] / static_cast<double>(cells[c].size());
        const Vec3 expected = centre.x() > 10 ? Vec3(4, 5, 6) : Vec3(1, 2, 3);
        EXPECT_EQ(vector_at(cell_field_of(wall, "force"), c), expected) << c;
    }
}

TEST(ThickPiece, RefusesASurfaceWithoutThickness) {
    Piece thin = surface();
    thin.cell_fields.clear();
    EXPECT_THROW((void)thickened(thin), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::shell_solid_test
