#include "meshes/strip_shells.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "meshes/quality.hpp"
#include "tests/support/surface_check.hpp"

namespace limbwright::meshes::strip_shells_test {
namespace {

/// Lengths of some hundred mm carry rounding of 1e-13.
constexpr double rounding = 1e-10;

constexpr double length = 300;
const Strip tapered{length, {{0, 44, 9, 0}, {0.5, 36, 7, 0}, {1, 28, 8, 0}}};
const Strip arc{length, {{0, 30, 8, 1 / 400.}, {1, 30, 8, 1 / 400.}}};

/// Somewhere, turned about all axes.
const Pose somewhere{solver::exp<double>(Vec3(0.3, -0.5, 0.8)), Vec3(20, -30, 40)};

Vec3 mirrored(const Vec3& p) {
    return {p.x(), -p.y(), p.z()};
}

TEST(StripSurface, HasARowOfNodesAtEveryShareAndCellsBetween) {
    const Surface surface = strip_surface(tapered, {}, 0, even_shares(0, 1, 6), 4);
    EXPECT_EQ(surface.nodes.size(), 7u * 5u);
    EXPECT_EQ(surface.cells.size(), 6u * 4u);
    EXPECT_TRUE(quality(surface).complaints.empty());
}

TEST(StripSurface, OfATaperHasItsTrapezoidsArea) {
    const Surface surface = strip_surface(tapered, somewhere, 5, even_shares(0, 1, 6), 4);
    EXPECT_NEAR(testing::area(surface), 0.5 * length * (40 + 32), rounding * length);
}

/// Each row of cells spans a chord 2 R sin(Δ/2).
TEST(StripSurface, OfAnArcHasTheAreaOfItsChords) {
    const int rows = 5;
    const double R = 400, chord = 2 * R * std::sin(length / R / rows / 2);
    const Surface surface = strip_surface(arc, somewhere, 0, even_shares(0, 1, rows), 2);
    EXPECT_NEAR(testing::area(surface), rows * chord * 30, rounding * length);
}

TEST(StripSurface, NormalsOfAnArcPointFromItsCentre) {
    const Surface surface = strip_surface(arc, {}, 0, even_shares(0, 1, 7), 2);
    for (const Pose& node : surface.nodes) {
        const Vec3 centre(0, node.position.y(), -400);
        const Vec3 normal = node.rotation * Vec3(Vec3::UnitZ());
        EXPECT_LT((normal - (node.position - centre) / 400).norm(), 1e-12);  // rounding of unit vectors
    }
    EXPECT_LT(testing::largest_normal_error(surface), 1e-15);
}

TEST(StripSurface, CornersRunRightHandedAboutTheNormals) {
    const Surface surface = strip_surface(arc, somewhere, 0, even_shares(0, 1, 7), 4);
    for (const SurfaceCell& cell : surface.cells)
        EXPECT_GT(area_vector(surface, cell).dot(cell.normals[0]), 0);
}

TEST(StripSurface, CellsHaveTheStripsThicknessAndItsChordAtTheirMiddle) {
    const Surface flat = strip_surface(tapered, {}, 0, {0, 0.3, 0.6, 1}, 2);
    EXPECT_NEAR(flat.cells[0].thickness, tapered.at(0.15).thickness, rounding);
    EXPECT_NEAR(flat.cells[3].thickness, tapered.at(0.45).thickness, rounding);
    const Surface curved = strip_surface(arc, {}, 0, {0, 1}, 2);
    const double turn = length / 400 / 2;  // of the whole chord
    EXPECT_LT((curved.cells[1].direction - Vec3(std::cos(turn), 0, -std::sin(turn))).norm(), 1e-12);
}

TEST(StripSurface, MirrorsInItsMiddle) {
    const Surface surface = strip_surface(tapered, {}, 0, even_shares(0, 1, 5), 6);
    EXPECT_TRUE(testing::is_symmetric(surface, mirrored, rounding));
}

TEST(StripSurface, StandsAsideByItsLateralPlace) {
    const Surface middle = strip_surface(arc, somewhere, 0, even_shares(0, 1, 5), 2);
    const Surface aside = strip_surface(arc, somewhere, 12, even_shares(0, 1, 5), 2);
    const Vec3 shift = somewhere.rotation * Vec3(0, 12, 0);
    for (std::size_t n = 0; n < middle.nodes.size(); ++n)
        EXPECT_LT((aside.nodes[n].position - middle.nodes[n].position - shift).norm(), rounding);
}

TEST(StripSurface, MayStartPastTheRootAtTheGivenPose) {
    const Surface surface = strip_surface(tapered, somewhere, 0, {0.5, 0.75, 1}, 2);
    EXPECT_LT((surface.nodes[1].position - somewhere.position).norm(), rounding);
    EXPECT_NEAR((surface.nodes[2].position - surface.nodes[0].position).norm(), 36, rounding);
}

TEST(StripSurface, SetsAreItsEndsAndItsCentreLineInOrder) {
    const std::vector<double> shares{0, 0.2, 0.7, 1};
    const Surface surface = strip_surface(tapered, {}, 0, shares, 4);
    EXPECT_EQ(surface.sets.at("root"), (std::vector<int>{0, 1, 2, 3, 4}));
    EXPECT_EQ(surface.sets.at("tip"), (std::vector<int>{15, 16, 17, 18, 19}));
    const std::vector<int>& line = surface.sets.at("line");
    ASSERT_EQ(line.size(), shares.size());
    for (std::size_t i = 0; i < line.size(); ++i)
        EXPECT_LT((surface.nodes[line[i]].position - Vec3(shares[i] * length, 0, 0)).norm(), rounding);
    EXPECT_LT(surface.nodes[0].position.y(), surface.nodes[4].position.y());
}

TEST(StripSurface, RowsOfCellsMeetWithoutGaps) {
    const Surface surface = strip_surface(arc, {}, 0, even_shares(0, 1, 5), 4);
    EXPECT_TRUE(testing::is_conforming(surface));
    EXPECT_EQ(testing::boundary_loops(surface), 1);
}

TEST(StripSurface, RefusesOddCellsAcrossAndBadShares) {
    EXPECT_THROW((void)strip_surface(tapered, {}, 0, {0, 1}, 3), std::invalid_argument);
    EXPECT_THROW((void)strip_surface(tapered, {}, 0, {0, 1}, 0), std::invalid_argument);
    EXPECT_THROW((void)strip_surface(tapered, {}, 0, {0}, 2), std::invalid_argument);
    EXPECT_THROW((void)strip_surface(tapered, {}, 0, {0, 0.5, 0.5, 1}, 2), std::invalid_argument);
    EXPECT_THROW((void)strip_surface(tapered, {}, 0, {0, 1.5}, 2), std::invalid_argument);
    EXPECT_THROW((void)strip_surface({300, {{0, 30, 0, 0}, {1, 30, 8, 0}}}, {}, 0, {0, 1}, 2),
                 std::invalid_argument);
}

/// Prongs 9 wide at ±10.5: outer edges 30 apart, gap 12.
Surface forked(const Strip& strip, int across = 10) {
    return forked_strip_surface(strip, {}, even_shares(0, 1, 10), across, 0.8, 9, 10.5);
}

const Strip even_width{length, {{0, 30, 8, 0}, {1, 30, 8, 0}}};

TEST(ForkedStripSurface, IsOnePieceWithOneEdgeRoundIt) {
    for (const Strip& strip : {even_width, arc, tapered}) {
        const Surface surface = forked(strip);
        EXPECT_TRUE(testing::is_conforming(surface));
        EXPECT_EQ(testing::boundary_loops(surface), 1);
        EXPECT_TRUE(quality(surface).complaints.empty());
    }
}

TEST(ForkedStripSurface, HasTheAreaOfItsBodyAndItsProngs) {
    EXPECT_NEAR(testing::area(forked(even_width)), 0.8 * length * 30 + 0.2 * length * 2 * 9,
                rounding * length);
}

/// Strip 45 wide, prongs over 30: width 45 until 2/3 of the body, then evenly down to 30.
TEST(ForkedStripSurface, NarrowsToItsProngsOverTheLastThirdOfTheBody) {
    const Strip wide{length, {{0, 45, 8, 0}, {1, 45, 8, 0}}};
    const Surface surface = forked_strip_surface(wide, {}, even_shares(0, 1, 8), 10, 0.75, 9, 10.5);
    const double body = 0.5 * length * 45 + 0.25 * length * 37.5, prongs = 0.25 * length * 18;
    EXPECT_NEAR(testing::area(surface), body + prongs, rounding * length);
    EXPECT_GT(quality(surface).least_jacobian_ratio, 0.7);  // widths 45 and 37.5 of one cell: 0.83
}

TEST(ForkedStripSurface, WidensALittleToReachItsProngs) {
    const Strip narrow{length, {{0, 28, 8, 0}, {1, 28, 8, 0}}};
    const Surface surface = forked(narrow);
    EXPECT_TRUE(quality(surface).complaints.empty());
    EXPECT_NEAR(surface.nodes[surface.sets.at("left tip").back()].position.y(), 15, rounding);
}

TEST(ForkedStripSurface, CarriesTheProngsEdgesThroughTheBody) {
    const Surface surface = forked(even_width);
    for (const double edge : {-15., -6., 6., 15.})
        for (int row = 0; row <= 8; ++row) {
            int found = 0;
            for (const Pose& node : surface.nodes)
                found += (node.position - Vec3(row * length / 10, edge, 0)).norm() < rounding;
            EXPECT_EQ(found, 1) << "edge " << edge << ", row " << row;
        }
}

TEST(ForkedStripSurface, LeavesTheGapEmpty) {
    const Surface surface = forked(even_width);
    for (const SurfaceCell& cell : surface.cells) {
        Vec3 middle = Vec3::Zero();
        for (const int corner : cell.corners) middle += surface.nodes[corner].position / 4;
        EXPECT_FALSE(middle.x() > 0.8 * length && std::abs(middle.y()) < 6);
    }
}

TEST(ForkedStripSurface, SetsFollowTheBodyAndEachProng) {
    const Surface surface = forked(even_width);
    const auto at = [&](const std::string& set, std::size_t i) {
        return surface.nodes[surface.sets.at(set)[i]].position;
    };
    EXPECT_EQ(surface.sets.at("root").size(), 11u);
    ASSERT_EQ(surface.sets.at("line").size(), 9u);
    EXPECT_LT((at("line", 8) - Vec3(0.8 * length, 0, 0)).norm(), rounding);
    ASSERT_EQ(surface.sets.at("left line").size(), 3u);
    ASSERT_EQ(surface.sets.at("right line").size(), 3u);
    for (std::size_t i = 0; i < 3; ++i) {
        const double x = length * (0.8 + 0.1 * static_cast<double>(i));
        EXPECT_LT((at("left line", i) - Vec3(x, 10.5, 0)).norm(), rounding);
        EXPECT_LT((at("right line", i) - Vec3(x, -10.5, 0)).norm(), rounding);
    }
    EXPECT_LT((at("left tip", 0) - Vec3(length, 6, 0)).norm(), rounding);
    EXPECT_LT((at("right tip", 0) - Vec3(length, -15, 0)).norm(), rounding);
    EXPECT_EQ(surface.sets.at("left tip").size(), surface.sets.at("right tip").size());
}

TEST(ForkedStripSurface, MirrorsInItsMiddle) {
    EXPECT_TRUE(testing::is_symmetric(forked(tapered), mirrored, rounding));
}

/// 9, 12, 9 over ten cells: with 2, 6, 2 cells are 4.5 and 2 wide, with 4, 2, 4 they are 2.25 and 6.
TEST(ForkedStripSurface, SharesOutItsCellsMostEvenly) {
    EXPECT_EQ(forked(even_width, 10).sets.at("left tip").size(), 3u);
    EXPECT_EQ(forked(even_width, 14).sets.at("left tip").size(), 5u);
}

TEST(ForkedStripSurface, RefusesImpossibleProngs) {
    const std::vector<double> shares = even_shares(0, 1, 10);
    const auto attempt = [&](int across, double fork, double width, double lateral) {
        (void)forked_strip_surface(even_width, {}, shares, across, fork, width, lateral);
    };
    EXPECT_NO_THROW(attempt(10, 0.8, 9, 10.5));
    EXPECT_THROW(attempt(9, 0.8, 9, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(4, 0.8, 9, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(10, 0.85, 9, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(10, 1, 9, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(10, 0, 9, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(10, 0.8, 22, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(10, 0.8, 0, 10.5), std::invalid_argument);
    EXPECT_THROW(attempt(10, 0.8, 9, 13), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::meshes::strip_shells_test
