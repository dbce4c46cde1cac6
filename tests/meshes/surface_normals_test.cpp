#include "meshes/surface_normals.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

#include "meshes/strip_shells.hpp"
#include "tests/support/surface_check.hpp"

namespace limbwright::meshes::surface_normals_test {
namespace {

constexpr double pi = std::numbers::pi;

Surface surface_of(const std::vector<Vec3>& points, const std::vector<std::array<int, 4>>& cells) {
    Surface surface;
    for (const Vec3& p : points) surface.nodes.push_back({{}, p});
    for (const auto& corners : cells) surface.cells.push_back({corners, {}, 1, Vec3::UnitX()});
    return surface;
}

/// Arc of radius 200 over a third of a turn, normals left out.
Surface bare_arc(int rows) {
    const double R = 200;
    const Strip strip{R * 2 * pi / 3, {{0, 30, 8, 1 / R}, {1, 30, 8, 1 / R}}};
    Surface surface = strip_surface(strip, {}, 0, even_shares(0, 1, rows), 4);
    for (SurfaceCell& cell : surface.cells) cell.normals.fill(Vec3::Zero());
    return surface;
}

void reverse(SurfaceCell& cell) {
    std::reverse(cell.corners.begin(), cell.corners.begin() + cell.count());
}

/// Floor 0 1 2 3 and wall 1 4 5 2 that stands on its edge 1-2.
const std::vector<Vec3> corner_points{{0, 0, 0}, {1, 0, 0}, {1, 1, 0},  {0, 1, 0},
                                      {1, 0, 1}, {1, 1, 1}, {1, 0, -1}, {1, 1, -1}};

TEST(Edges, ListTheCellsAndTheWaysTheyRun) {
    const Surface surface = surface_of(corner_points, {{0, 1, 2, 3}, {1, 4, 5, 2}});
    const Edges edges = edges_of(surface);
    EXPECT_EQ(edges.size(), 7u);
    const std::vector<EdgeUse>& shared = edges.at({1, 2});
    ASSERT_EQ(shared.size(), 2u);
    EXPECT_TRUE(shared[0].cell == 0 && shared[0].forward);
    EXPECT_TRUE(shared[1].cell == 1 && !shared[1].forward);
}

TEST(AreaVector, OfATriangleAndASquareIsTheirAreaAlongTheNormal) {
    const Surface surface = surface_of(corner_points, {{0, 1, 2, 3}, {0, 1, 2, -1}});
    EXPECT_LT((area_vector(surface, surface.cells[0]) - Vec3(0, 0, 1)).norm(), 1e-15);
    EXPECT_LT((area_vector(surface, surface.cells[1]) - Vec3(0, 0, 0.5)).norm(), 1e-15);
}

TEST(FindNormals, OfARegularArcAreExactWithinIt) {
    Surface surface = bare_arc(20);
    find_normals(surface, 0.5);
    for (const SurfaceCell& cell : surface.cells)
        for (std::size_t k = 0; k < 4; ++k) {
            const Pose& node = surface.nodes[cell.corners[k]];
            const double x = node.position.x();
            const bool at_end = x < 1 || cell.corners[k] >= 20 * 5;
            // At an end only one side counts: half of a cell's turn is missing.
            const double tolerance = at_end ? 1.01 * pi / 3 / 20 : 1e-12;
            EXPECT_LT((cell.normals[k] - node.rotation * Vec3(Vec3::UnitZ())).norm(), tolerance);
        }
}

/// Neighbours of a triangulated sphere do not weigh evenly; the error falls with the square of their size.
TEST(FindNormals, OfASphereAreWithinTheSquareOfTheCellsAngle) {
    const int rings = 12, sectors = 24;
    std::vector<Vec3> points;
    for (int i = 1; i < rings; ++i)
        for (int j = 0; j < sectors; ++j) {
            const double polar = pi * i / rings, turn = 2 * pi * j / sectors;
            points.emplace_back(std::sin(polar) * std::cos(turn), std::sin(polar) * std::sin(turn),
                                std::cos(polar));
        }
    std::vector<std::array<int, 4>> cells;
    for (int i = 0; i + 2 < rings; ++i)
        for (int j = 0; j < sectors; ++j) {
            const int a = i * sectors + j, b = i * sectors + (j + 1) % sectors;
            cells.push_back({a, a + sectors, b + sectors, -1});
            cells.push_back({a, b + sectors, b, -1});
        }
    Surface surface = surface_of(points, cells);
    find_normals(surface, 1);
    const double cell_angle = pi / rings;
    for (const SurfaceCell& cell : surface.cells)
        for (std::size_t k = 0; k < 3; ++k) {
            const int node = cell.corners[k];
            const int last_ring = (rings - 2) * sectors;
            if (node < sectors || node >= last_ring) continue;  // at the open poles one side is missing
            EXPECT_LT((cell.normals[k] - surface.nodes[node].position).norm(), cell_angle * cell_angle);
        }
}

TEST(FindNormals, TurnCellsToTheSenseOfTheFirst) {
    Surface wanted = bare_arc(20);
    find_normals(wanted, 0.5);
    Surface surface = bare_arc(20);
    std::mt19937 random(7);
    int reversed = 0;
    for (std::size_t c = 1; c < surface.cells.size(); ++c)
        if (random() % 2) {
            reverse(surface.cells[c]);
            ++reversed;
        }
    ASSERT_GT(reversed, 20);
    EXPECT_FALSE(testing::is_conforming(surface));
    find_normals(surface, 0.5);
    EXPECT_TRUE(testing::is_conforming(surface));
    for (std::size_t c = 0; c < surface.cells.size(); ++c)
        for (std::size_t k = 0; k < 4; ++k) {
            const auto& corners = wanted.cells[c].corners;
            const auto same = std::find(corners.begin(), corners.end(), surface.cells[c].corners[k]);
            ASSERT_NE(same, corners.end());
            const Vec3& normal = wanted.cells[c].normals[static_cast<std::size_t>(same - corners.begin())];
            EXPECT_LT((surface.cells[c].normals[k] - normal).norm(), 1e-14);  // order of the sum
        }
}

TEST(FindNormals, FollowTheFirstCellOfEachPiece) {
    Surface surface =
        surface_of({{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {5, 0, 0}, {6, 0, 0}, {6, 1, 0}},
                   {{0, 1, 2, 3}, {4, 6, 5, -1}});
    find_normals(surface, 0.5);
    EXPECT_GT(surface.cells[0].normals[0].z(), 0.99);
    EXPECT_LT(surface.cells[1].normals[0].z(), -0.99);
}

TEST(FindNormals, AreSmoothWithinTheCreaseAngleAndSharpBeyond) {
    Surface surface = surface_of(corner_points, {{0, 1, 2, 3}, {1, 4, 5, 2}});
    const Vec3 floor = Vec3::UnitZ(), wall = -Vec3::UnitX(), between = (floor + wall).normalized();
    find_normals(surface, 0.6 * pi);
    EXPECT_LT((surface.cells[0].normals[1] - between).norm(), 1e-14);
    EXPECT_LT((surface.cells[1].normals[0] - between).norm(), 1e-14);
    EXPECT_LT((surface.cells[0].normals[0] - floor).norm(), 1e-14);
    find_normals(surface, 0.4 * pi);
    EXPECT_LT((surface.cells[0].normals[1] - floor).norm(), 1e-14);
    EXPECT_LT((surface.cells[1].normals[0] - wall).norm(), 1e-14);
}

/// Floor cut into two triangles at node 1, half a right angle each, beside the wall's right angle: floor and
/// wall weigh alike. Weighted by number the floor would weigh double.
TEST(FindNormals, WeighCellsByTheirAngles) {
    Surface surface = surface_of(corner_points, {{0, 1, 3, -1}, {1, 2, 3, -1}, {1, 4, 5, 2}});
    find_normals(surface, 0.6 * pi);
    EXPECT_LT((surface.cells[1].normals[0] - Vec3(-1, 0, 1).normalized()).norm(), 1e-14);
}

TEST(FindNormals, AtAJunctionAreTheCellsOwn) {
    Surface surface = surface_of(corner_points, {{0, 1, 2, 3}, {1, 4, 5, 2}, {1, 2, 7, 6}});
    find_normals(surface, pi);
    for (const SurfaceCell& cell : surface.cells)
        for (const Vec3& normal : cell.normals)
            EXPECT_LT((normal - area_vector(surface, cell).normalized()).norm(), 1e-14);
}

TEST(FindNormals, OfAMoebiusBandAreTheCellsOwnWhereNoSenseFits) {
    const int n = 16;
    std::vector<Vec3> points;
    for (int i = 0; i < n; ++i)
        for (const double side : {-1., 1.}) {
            const double turn = 2 * pi * i / n, radius = 5 + side * std::cos(turn / 2);
            points.emplace_back(radius * std::cos(turn), radius * std::sin(turn), side * std::sin(turn / 2));
        }
    std::vector<std::array<int, 4>> cells;
    for (int i = 0; i + 1 < n; ++i) cells.push_back({2 * i, 2 * i + 2, 2 * i + 3, 2 * i + 1});
    cells.push_back({2 * n - 2, 1, 0, 2 * n - 1});
    Surface surface = surface_of(points, cells);
    find_normals(surface, pi);
    int own = 0;
    for (const SurfaceCell& cell : surface.cells)
        for (const Vec3& normal : cell.normals) {
            const double error = (normal - area_vector(surface, cell).normalized()).norm();
            EXPECT_LT(error, 0.5);  // never the mean of two opposite senses
            own += error < 1e-14;
        }
    EXPECT_EQ(own, 4);  // both cells' corners at the one edge
}

TEST(FindNormals, RefuseCellsWithoutAreaAndNodesThatDoNotExist) {
    Surface flat = surface_of({{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}, {{0, 1, 2, -1}});
    EXPECT_THROW(find_normals(flat, 1), std::invalid_argument);
    Surface missing = surface_of({{0, 0, 0}, {1, 0, 0}, {1, 1, 0}}, {{0, 1, 3, -1}});
    EXPECT_THROW(find_normals(missing, 1), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::meshes::surface_normals_test
