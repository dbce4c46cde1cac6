#include "postproc/report/report_scene.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "models/input/units.hpp"
#include "postproc/scene/bow_scene.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::postproc::report_scene_test {
namespace {

using testing::uneven_bow;

const ReportState& full() {
    static const ReportState state =
        report_state(uneven_bow().strung, uneven_bow().draw.states.back(), "full draw");
    return state;
}

const ReportPiece& piece(const std::string& name) {
    const auto found = std::ranges::find(full().pieces, name, &ReportPiece::name);
    if (found == full().pieces.end()) throw std::runtime_error("no piece is called " + name);
    return *found;
}

/// Slope of an axle's height over the way to the left, between the middles of its two halves.
double slope(const ReportPiece& axle, double times) {
    Vec3 sums[2] = {Vec3::Zero(), Vec3::Zero()};
    double middle = 0;
    for (const Vec3& p : axle.points) middle += p.y() / static_cast<double>(axle.points.size());
    int counts[2] = {0, 0};
    for (std::size_t i = 0; i < axle.points.size(); ++i) {
        const int half = axle.points[i].y() > middle ? 1 : 0;
        sums[half] += axle.points[i] + (times - 1) * axle.lean[i];
        ++counts[half];
    }
    const Vec3 way = sums[1] / counts[1] - sums[0] / counts[0];
    return way.z() / way.y();
}

TEST(ReportScene, HoldsEveryPieceOfTheSceneInTheBowsOwnFrame) {
    const models::DrawState& state = uneven_bow().draw.states.back();
    const Scene scene = scene_of(uneven_bow().strung, state);
    const solver::Pose to_bow = bow_frame(uneven_bow().bow(), state.state).inverse();
    ASSERT_EQ(full().pieces.size(), scene.pieces.size());
    for (std::size_t i = 0; i < scene.pieces.size(); ++i) {
        EXPECT_EQ(full().pieces[i].name, scene.pieces[i].name);
        if (!scene.pieces[i].lines.empty()) continue;  // became a bar
        ASSERT_EQ(full().pieces[i].points.size(), scene.pieces[i].points.size());
        EXPECT_EQ(full().pieces[i].points[0], to_bow * scene.pieces[i].points[0]);
    }
}

TEST(ReportScene, IsMadeOfTrianglesOfItsOwnPoints) {
    for (const ReportPiece& p : full().pieces) {
        EXPECT_FALSE(p.triangles.empty()) << p.name;
        EXPECT_EQ(p.lean.size(), p.points.size()) << p.name;
        for (const auto& triangle : p.triangles)
            for (const int corner : triangle) {
                EXPECT_GE(corner, 0) << p.name;
                EXPECT_LT(corner, static_cast<int>(p.points.size())) << p.name;
            }
    }
}

TEST(ReportScene, AnAxleEnlargedLeansSoManyTimesAsMuch) {
    const double lean = uneven_bow().full("cam lean, top") * models::units::degree;
    ASSERT_GT(std::abs(lean), 1e-4);
    // Positive: the top cam leans to the left, so that its axle's left end stands low. The axle bends, too,
    // so that its halves lie at another slope than its middle; what is enlarged is the lean of the middle.
    EXPECT_LT(slope(piece("axle top"), 1) * lean, 0);
    const double more = slope(piece("axle top"), 4) - slope(piece("axle top"), 1);
    EXPECT_NEAR(more, -3 * lean, 0.02 * std::abs(3 * lean));  // first order in the lean
}

TEST(ReportScene, WhatSitsOnTheAxleGoesAlongWithItAsARigidBody) {
    const ReportPiece& cam = piece("cam top hub");
    // Small turns keep distances: d_i − d_j stands square to r_i − r_j.
    for (std::size_t i = 1; i < cam.points.size(); ++i) {
        const Vec3 way = cam.points[i] - cam.points[0], moved = cam.lean[i] - cam.lean[0];
        EXPECT_NEAR(way.dot(moved), 0, 1e-9 * way.squaredNorm() + 1e-12);
    }
}

TEST(ReportScene, RiserGuideAndArrowStay) {
    for (const char* name : {"riser", "guide slide", "arrow"})
        for (const Vec3& lean : piece(name).lean) EXPECT_TRUE(lean.isZero(0)) << name;
}

TEST(ReportScene, ALimbLeansMoreTowardItsTip) {
    const ReportPiece &limb = piece("limb top left"), &axle = piece("axle top");
    Vec3 middle = Vec3::Zero();
    for (const Vec3& p : axle.points) middle += p / static_cast<double>(axle.points.size());
    const auto distance = [&](const Vec3& p) { return (p - middle).norm(); };
    const auto nearest = std::ranges::min_element(limb.points, {}, distance) - limb.points.begin();
    const auto farthest = std::ranges::max_element(limb.points, {}, distance) - limb.points.begin();
    const auto lean = [&](auto i) { return limb.lean[static_cast<std::size_t>(i)].norm(); };
    EXPECT_LT(lean(farthest), 0.01 * lean(nearest));
    EXPECT_GT(lean(nearest), 0);
}

}  // namespace
}  // namespace limbwright::postproc::report_scene_test
