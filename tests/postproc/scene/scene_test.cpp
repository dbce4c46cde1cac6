#include "postproc/scene/scene.hpp"

#include <gtest/gtest.h>

#include <map>
#include <numbers>
#include <stdexcept>

namespace limbwright::postproc::scene_test {
namespace {

std::vector<std::vector<int>> faces_of(const Piece& piece) {
    std::vector<std::vector<int>> faces;
    for (const auto& quad : piece.quads) faces.emplace_back(quad.begin(), quad.end());
    for (const auto& triangle : piece.triangles) faces.emplace_back(triangle.begin(), triangle.end());
    return faces;
}

/// By Gauss's theorem; positive when faces are turned outward.
double volume(const Piece& piece) {
    double sum = 0;
    for (const std::vector<int>& face : faces_of(piece))
        for (std::size_t i = 1; i + 1 < face.size(); ++i)
            sum += piece.points[face[0]].dot(piece.points[face[i]].cross(piece.points[face[i + 1]])) / 6;
    return sum;
}

/// Every edge is run along once in each direction.
bool is_closed(const Piece& piece) {
    std::map<std::pair<int, int>, int> runs;
    for (const std::vector<int>& face : faces_of(piece))
        for (std::size_t i = 0; i < face.size(); ++i) ++runs[{face[i], face[(i + 1) % face.size()]}];
    for (const auto& [edge, times] : runs) {
        const auto back = runs.find({edge.second, edge.first});
        if (times != 1 || back == runs.end() || back->second != 1) return false;
    }
    return !runs.empty();
}

std::vector<SweptStation> straight_bar(int stations) {
    std::vector<SweptStation> bar;
    for (int i = 0; i < stations; ++i)
        bar.push_back(
            {.position = Vec3(10 * i, 5, -3), .rotation = Mat3::Identity(), .width = 4, .thickness = 2});
    return bar;
}

/// Of a regular polygon with 16 corners on a circle of the given radius.
double sixteen_sided_area(double radius) {
    return 8 * radius * radius * std::sin(2 * std::numbers::pi / 16);
}

constexpr double rounding = 1e-11;  // relative; some hundred products of doubles

TEST(SweptPiece, RectangularBarIsClosedAndHasItsVolume) {
    const Piece bar = swept("limb", straight_bar(4), SectionShape::rectangle);
    EXPECT_TRUE(is_closed(bar));
    EXPECT_NEAR(volume(bar), 30 * 4 * 2, 240 * rounding);
    EXPECT_EQ(bar.name, "limb");
    EXPECT_EQ(bar.quads.size(), 3 * 4 + 2);
}

TEST(SweptPiece, WidthLiesAlongTheSecondAxisAndThicknessAlongTheThird) {
    std::vector<SweptStation> bar = straight_bar(2);
    Vec3 low = Vec3::Constant(1e9);
    Vec3 high = -low;
    for (const Vec3& p : swept("limb", bar, SectionShape::rectangle).points) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    EXPECT_EQ(low, Vec3(0, 3, -4));
    EXPECT_EQ(high, Vec3(10, 7, -2));
}

TEST(SweptPiece, TurnsWithItsStations) {
    std::vector<SweptStation> bar = straight_bar(3);
    const Mat3 turn = Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
    const Piece before = swept("bar", bar, SectionShape::rectangle);
    for (SweptStation& station : bar) station = {turn * station.position, turn * station.rotation, 4, 2};
    const Piece after = swept("bar", bar, SectionShape::rectangle);
    for (std::size_t i = 0; i < before.points.size(); ++i)
        EXPECT_LT((after.points[i] - turn * before.points[i]).norm(), 1e-13 * 25);  // rounding at that size
}

TEST(SweptPiece, RoundBarIsClosedAndHasItsVolume) {
    const Piece bar = swept("axle", straight_bar(3), SectionShape::round);
    EXPECT_TRUE(is_closed(bar));
    EXPECT_NEAR(volume(bar), 20 * sixteen_sided_area(2), 250 * rounding);
}

TEST(SweptPiece, FieldsAreRepeatedOnTheirSection) {
    const Field moment{"moment", "N mm", 3, {1, 2, 3, 4, 5, 6}};
    const Piece bar = swept("limb", straight_bar(2), SectionShape::rectangle, {moment});
    EXPECT_EQ(bar.point_fields[0].values, (std::vector<double>{1, 2, 3, 1, 2, 3, 1, 2, 3, 1, 2, 3,  //
                                                               4, 5, 6, 4, 5, 6, 4, 5, 6, 4, 5, 6}));
    EXPECT_EQ(bar.point_fields[0].unit, "N mm");
}

TEST(SweptPiece, RefusesOneStationAndFieldsOfAnotherLength) {
    EXPECT_THROW((void)swept("bar", straight_bar(1), SectionShape::round), std::invalid_argument);
    EXPECT_THROW((void)swept("bar", straight_bar(2), SectionShape::round, {{"f", "N", 1, {1, 2, 3}}}),
                 std::invalid_argument);
}

TEST(TubePiece, AlongAStraightLineHasItsVolume) {
    const Piece tube_piece = tube("string", {{0, 0, 0}, {0, 0, 40}, {0, 0, 100}}, 3);
    EXPECT_TRUE(is_closed(tube_piece));
    EXPECT_NEAR(volume(tube_piece), 100 * sixteen_sided_area(1.5), 700 * rounding);
}

TEST(TubePiece, DoesNotWringAlongAHelix) {
    std::vector<Vec3> helix;
    for (int i = 0; i <= 400; ++i)
        helix.emplace_back(20 * std::cos(0.05 * i), 20 * std::sin(0.05 * i), 0.2 * i);
    const Piece piece = tube("cable", helix, 2);
    EXPECT_TRUE(is_closed(piece));
    // A step of the line's direction is 0.05 rad; a corner of the section moves by the step of the line
    // (1.02) and that turn at most.
    for (std::size_t i = 16; i < piece.points.size(); ++i)
        EXPECT_LT((piece.points[i] - piece.points[i - 16]).norm(), 1.02 + 0.06);
}

TEST(TubePiece, SkipsCoincidingPointsTogetherWithTheirFields) {
    const Piece piece = tube("cable", {{0, 0, 0}, {0, 0, 0}, {1, 0, 0}}, 1, {{"tension", "N", 1, {7, 8, 9}}});
    EXPECT_TRUE(is_closed(piece));
    ASSERT_EQ(piece.points.size(), 32);
    EXPECT_EQ(piece.point_fields[0].values.front(), 7);
    EXPECT_EQ(piece.point_fields[0].values.back(), 9);
    for (const Vec3& p : piece.points) EXPECT_TRUE(p.allFinite());
    EXPECT_THROW((void)tube("cable", {{1, 1, 1}, {1, 1, 1}}, 1), std::invalid_argument);
}

TEST(LinePiece, IsOnePolylineThroughAllPoints) {
    const Piece piece =
        polyline("string", {{0, 0, 0}, {1, 0, 0}, {2, 1, 0}}, {{"tension", "N", 1, {5, 5, 5}}});
    ASSERT_EQ(piece.lines.size(), 1);
    EXPECT_EQ(piece.lines[0], (std::vector<int>{0, 1, 2}));
    EXPECT_EQ(piece.point_fields[0].values.size(), 3);
}

std::vector<Vec3> ellipse(bool backward) {
    std::vector<Vec3> outline;
    for (int i = 0; i < 90; ++i) {
        const double angle = (backward ? -1 : 1) * 2 * std::numbers::pi * i / 90;
        outline.emplace_back(30 + 40 * std::cos(angle), 8, 25 * std::sin(angle));
    }
    return outline;
}

TEST(DiscPiece, IsClosedWithItsVolumeWhicheverWayRound) {
    const double area = 45 * 40 * 25 * std::sin(2 * std::numbers::pi / 90);
    for (const bool backward : {false, true})
        for (const double thickness : {3.0, -3.0}) {
            const Piece piece = disc("cam", ellipse(backward), {0, thickness, 0});
            EXPECT_TRUE(is_closed(piece));
            EXPECT_NEAR(volume(piece), 3 * area, 3 * area * rounding);
        }
}

TEST(DiscPiece, StandsHalfToEitherSideOfItsOutline) {
    for (const Vec3& p : disc("cam", ellipse(false), {0, 3, 0}).points) EXPECT_EQ(std::abs(p.y() - 8), 1.5);
}

TEST(DiscPiece, RefusesAThicknessWithinItsPlane) {
    EXPECT_THROW((void)disc("cam", ellipse(false), {3, 0, 1}), std::invalid_argument);
    EXPECT_THROW((void)disc("cam", {{0, 0, 0}, {1, 0, 0}}, {0, 3, 0}), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::scene_test
