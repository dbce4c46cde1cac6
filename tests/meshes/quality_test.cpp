#include "meshes/quality.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

namespace limbwright::meshes::quality_test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double rounding = 1e-14;

Surface surface_of(const std::vector<Vec3>& points, const std::vector<std::array<int, 4>>& cells) {
    Surface surface;
    for (const Vec3& p : points) surface.nodes.push_back({{}, p});
    for (const auto& corners : cells) {
        SurfaceCell cell;
        cell.corners = corners;
        cell.normals.fill(Vec3::Zero());
        cell.thickness = 0.5;
        surface.cells.push_back(cell);
    }
    return surface;
}

SurfaceQuality quality_of_cell(const std::vector<Vec3>& points) {
    return quality(surface_of(points, {{0, 1, 2, points.size() == 3 ? -1 : 3}}));
}

const std::vector<Vec3> square{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}};

using Texts = std::vector<std::string>;

TEST(Quality, OfAUnitSquareIsPerfect) {
    const SurfaceQuality q = quality_of_cell(square);
    EXPECT_NEAR(q.least_angle, pi / 2, rounding);
    EXPECT_NEAR(q.largest_angle, pi / 2, rounding);
    EXPECT_NEAR(q.largest_aspect, 1, rounding);
    EXPECT_NEAR(q.largest_warp, 0, rounding);
    EXPECT_NEAR(q.least_jacobian_ratio, 1, rounding);
    EXPECT_NEAR(q.largest_thickness_ratio, 0.5, rounding);
    EXPECT_EQ(q.cells, 1);
    EXPECT_EQ(q.triangles, 0);
    EXPECT_EQ(q.nodes, 4);
    EXPECT_TRUE(q.complaints.empty() && q.notes.empty());
}

/// Sides 1, area sin 60°: aspect 1 · 4/(4 sin 60°).
TEST(Quality, OfARhombusIsThatOfItsAngles) {
    const double c = 0.5, s = std::sqrt(0.75);
    const SurfaceQuality q = quality_of_cell({{0, 0, 0}, {1, 0, 0}, {1 + c, s, 0}, {c, s, 0}});
    EXPECT_NEAR(q.least_angle, pi / 3, rounding);
    EXPECT_NEAR(q.largest_angle, 2 * pi / 3, rounding);
    EXPECT_NEAR(q.largest_aspect, 1 / s, rounding);
    EXPECT_NEAR(q.least_jacobian_ratio, 1, rounding);
}

/// Parallel sides 4 and 2, height 1, legs √2: area 3, corner Jacobians 4 and 2.
TEST(Quality, OfATrapezoidIsTheClosedForm) {
    const SurfaceQuality q = quality_of_cell({{0, 0, 0}, {4, 0, 0}, {3, 1, 0}, {1, 1, 0}});
    EXPECT_NEAR(q.least_angle, pi / 4, rounding);
    EXPECT_NEAR(q.largest_angle, 3 * pi / 4, rounding);
    EXPECT_NEAR(q.largest_aspect, 4 * (6 + 2 * std::sqrt(2.)) / (4 * 3), rounding);
    EXPECT_NEAR(q.least_jacobian_ratio, 0.5, rounding);
    EXPECT_NEAR(q.largest_thickness_ratio, 0.5 / std::sqrt(2.), rounding);
}

TEST(Quality, OfAnEquilateralTriangleIsPerfect) {
    const SurfaceQuality q = quality_of_cell({{0, 0, 0}, {1, 0, 0}, {0.5, std::sqrt(0.75), 0}});
    EXPECT_NEAR(q.least_angle, pi / 3, rounding);
    EXPECT_NEAR(q.largest_angle, pi / 3, rounding);
    EXPECT_NEAR(q.largest_aspect, 1, rounding);
    EXPECT_NEAR(q.least_jacobian_ratio, 1, rounding);
    EXPECT_EQ(q.triangles, 1);
}

/// One half of a unit square turned about the diagonal by α.
TEST(Quality, WarpIsTheAngleOfTheFoldAlongADiagonal) {
    const double alpha = 0.3, r = std::sqrt(0.5);
    const Vec3 lifted(0.5 - r * std::cos(alpha) * r, 0.5 + r * std::cos(alpha) * r, r * std::sin(alpha));
    const SurfaceQuality q = quality_of_cell({square[0], square[1], square[2], lifted});
    // Across the other diagonal the fold is milder: that from 0 to 2 counts.
    EXPECT_NEAR(q.largest_warp, alpha, rounding);
}

TEST(Quality, DoesNotDependOnSenseOrFirstCorner) {
    const std::vector<Vec3> points{{0, 0, 0}, {4, 0, 0.2}, {3, 1, 0}, {1, 1.5, 0}};
    const SurfaceQuality a = quality(surface_of(points, {{0, 1, 2, 3}})),
                         b = quality(surface_of(points, {{2, 1, 0, 3}}));
    EXPECT_NEAR(a.least_angle, b.least_angle, rounding);
    EXPECT_NEAR(a.largest_angle, b.largest_angle, rounding);
    EXPECT_NEAR(a.largest_aspect, b.largest_aspect, rounding);
    EXPECT_NEAR(a.largest_warp, b.largest_warp, rounding);
    EXPECT_NEAR(a.least_jacobian_ratio, b.least_jacobian_ratio, rounding);
}

TEST(Quality, IsThatOfTheWorstCells) {
    const Surface surface = surface_of({{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {1.1, 0, 0}, {1.1, 1, 0}},
                                       {{0, 1, 2, 3}, {1, 4, 5, 2}});
    EXPECT_NEAR(quality(surface).largest_aspect, 2.2 / 0.4, 1e-12);
    EXPECT_NEAR(quality(surface).largest_thickness_ratio, 5, 1e-12);
}

TEST(Quality, ComplainsOfAConcaveCell) {
    const SurfaceQuality q = quality_of_cell({{0, 0, 0}, {1, 0, 0}, {0.2, 0.2, 0}, {0, 1, 0}});
    EXPECT_EQ(q.complaints, Texts{"cell 0 is folded over or concave at node 2"});
    EXPECT_GT(q.largest_angle, pi);
    EXPECT_LT(q.least_jacobian_ratio, 0);
}

TEST(Quality, ComplainsOfCrossedSides) {
    const SurfaceQuality q = quality_of_cell({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0.8, 1.5, 0}});
    EXPECT_FALSE(q.complaints.empty());
    EXPECT_LT(q.least_jacobian_ratio, 0);
}

TEST(Quality, ComplainsOfACellWithoutArea) {
    EXPECT_EQ(quality_of_cell({{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}).complaints, Texts{"cell 0 has no area"});
    EXPECT_EQ(quality_of_cell({{0, 0, 0}, {0, 0, 0}, {0, 0, 0}}).complaints, Texts{"cell 0 has no area"});
}

TEST(Quality, ComplainsOfNodesThatDoNotExistOrStandTwice) {
    EXPECT_EQ(quality(surface_of(square, {{0, 1, 2, 3}, {1, 2, 9, -1}})).complaints,
              Texts{"cell 1 has node 9, which does not exist"});
    EXPECT_EQ(quality(surface_of(square, {{0, 1, 2, 3}, {1, -1, 2, 3}})).complaints,
              Texts{"cell 1 has node -1, which does not exist"});
    EXPECT_EQ(quality(surface_of(square, {{0, 1, 2, 3}, {1, 2, 1, -1}})).complaints,
              Texts{"cell 1 has node 1 twice"});
}

TEST(Quality, ComplainsOfANodeThatBelongsToNoCell) {
    std::vector<Vec3> points = square;
    points.emplace_back(5, 5, 5);
    EXPECT_EQ(quality(surface_of(points, {{0, 1, 2, 3}})).complaints, Texts{"node 4 belongs to no cell"});
}

TEST(Quality, ComplainsOfPositionsThatAreNotNumbers) {
    std::vector<Vec3> points = square;
    points[2].y() = std::numeric_limits<double>::quiet_NaN();
    const Texts complaints = quality(surface_of(points, {{0, 1, 2, 3}})).complaints;
    ASSERT_FALSE(complaints.empty());
    EXPECT_EQ(complaints[0], "node 2 stands nowhere: its position is not a number");
}

TEST(Quality, ComplainsOfACellWithoutThickness) {
    Surface surface = surface_of(square, {{0, 1, 2, 3}});
    surface.cells[0].thickness = 0;
    EXPECT_EQ(quality(surface).complaints, Texts{"cell 0 has no thickness"});
}

TEST(Quality, ComplainsOfNormalsToDifferentFaces) {
    Surface surface = surface_of(square, {{0, 1, 2, 3}});
    surface.cells[0].normals.fill(-Vec3::UnitZ());
    EXPECT_TRUE(quality(surface).complaints.empty());
    surface.cells[0].normals[2] = Vec3::UnitZ();
    EXPECT_EQ(quality(surface).complaints,
              Texts{"cell 0: its corner normals do not all point to the same face"});
}

TEST(Quality, ComplainsOfPiecesThatNoNodeJoins) {
    std::vector<Vec3> points = square;
    for (const Vec3& p : square) points.emplace_back(p + Vec3(3, 0, 0));
    EXPECT_EQ(quality(surface_of(points, {{0, 1, 2, 3}, {4, 5, 6, 7}})).complaints,
              Texts{"the surface falls into 2 pieces that share no node"});
}

TEST(Quality, ComplainsOfNoCells) {
    EXPECT_EQ(quality({}).complaints, Texts{"there are no cells"});
    EXPECT_EQ(quality({}).least_angle, 0);
}

TEST(Quality, NotesEdgesOfMoreThanTwoCells) {
    std::vector<Vec3> points = square;
    points.insert(points.end(), {{1, 0, 1}, {1, 0, -1}});
    const SurfaceQuality q = quality(surface_of(points, {{0, 1, 2, 3}, {1, 2, 4, -1}, {1, 2, 5, -1}}));
    EXPECT_TRUE(q.complaints.empty());
    EXPECT_EQ(q.notes, Texts{"3 cells meet at the edge of nodes 1 and 2"});
}

}  // namespace
}  // namespace limbwright::meshes::quality_test
