#include "meshes/trace.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "tests/support/complaint.hpp"

namespace limbwright::meshes::trace_test {
namespace {

using testing::complaint;

constexpr double pi = std::numbers::pi;
constexpr double rounding = 1e-11;

/// Points of a circle of radius 20 about (3, −2), every `step` from `begin` on [rad].
std::vector<Vec2> circle_points(int count, double begin, double step) {
    std::vector<Vec2> points;
    for (int i = 0; i < count; ++i) {
        const double psi = begin + i * step;
        points.emplace_back(3 + 20 * std::cos(psi), -2 + 20 * std::sin(psi));
    }
    return points;
}

TEST(Trace, RefusesTooFewPoints) {
    const std::vector<Vec2> points = circle_points(7, 0, 0.8);
    EXPECT_EQ(complaint([&] { (void)numbered(points); }),
              "only 7 points: at least 8 are wanted, better one every few degrees round the groove");
}

TEST(Trace, RefusesAPointThatIsNoNumber) {
    std::vector<Vec2> points = circle_points(9, 0, 0.6);
    points[4].y() = std::numeric_limits<double>::infinity();
    EXPECT_NE(complaint([&] { (void)numbered(points); }).find("point 5 at"), std::string::npos);
}

TEST(Trace, NearestCircleOfPointsOnACircleIsThatCircle) {
    const BaseCircle circle = nearest_circle(numbered(circle_points(10, 0.3, 0.2)));
    EXPECT_NEAR(circle.centre.x(), 3, rounding);
    EXPECT_NEAR(circle.centre.y(), -2, rounding);
    EXPECT_NEAR(circle.radius, 20, rounding);
}

TEST(Trace, RefusesPointsOnALine) {
    std::vector<Vec2> points;
    for (int i = 0; i < 10; ++i) points.emplace_back(i, 2.0 * i + 1);
    const Trace trace = numbered(points);
    EXPECT_NE(complaint([&] { (void)nearest_circle(trace); }).find("straight line"), std::string::npos);
}

TEST(Trace, DirectionsRiseThroughTheTurns) {
    Trace trace = numbered(circle_points(40, 2.5, 0.2));
    const std::vector<double> directions = rising_directions(trace, {3, -2});
    for (int i = 0; i < 40; ++i) EXPECT_NEAR(directions[i], 2.5 + 0.2 * i, rounding);
    EXPECT_EQ(trace.front().number, 1);
}

TEST(Trace, OneThatRunsClockwiseIsTurnedRoundAndKeepsItsNumbers) {
    Trace trace = numbered(circle_points(10, 2.5, -0.2));
    const std::vector<double> directions = rising_directions(trace, {3, -2});
    for (int i = 0; i < 10; ++i) EXPECT_NEAR(directions[i], 0.7 + 0.2 * i, rounding);
    EXPECT_EQ(trace.front().number, 10);
}

TEST(Trace, RefusesAPointThatGoesBack) {
    for (const double sense : {+1.0, -1.0}) {
        std::vector<Vec2> points = circle_points(12, 0.0, sense * 0.2);
        std::swap(points[5], points[6]);
        Trace trace = numbered(points);
        const std::string said = complaint([&] { (void)rising_directions(trace, {3, -2}); });
        EXPECT_NE(said.find("point 7 at"), std::string::npos) << said;
        EXPECT_NE(said.find("goes back by 11 deg from point 6: the points must be in order"),
                  std::string::npos)
            << said;
    }
}

TEST(Trace, AFullTurnIsToldFromAnArcByItsGap) {
    EXPECT_TRUE(goes_all_round(numbered(circle_points(36, 0, 2 * pi / 36)), 35 * 2 * pi / 36));
    EXPECT_TRUE(goes_all_round(numbered(circle_points(37, 0, 2 * pi / 36)), 2 * pi));  // first point repeated
    EXPECT_FALSE(goes_all_round(numbered(circle_points(32, 0, 2 * pi / 36)), 31 * 2 * pi / 36));
}

TEST(Trace, GuessedNormalsOfAnOvalAreThoseOfItsChords) {
    std::vector<Vec2> points;  // half axes 60 and 20
    for (int i = 0; i < 160; ++i)
        points.emplace_back(60 * std::cos(i * 2 * pi / 160), 20 * std::sin(i * 2 * pi / 160));
    Trace trace = numbered(points);
    const std::vector<double> directions = rising_directions(trace, {0, 0});
    const std::vector<double> normals = guessed_normals(trace, directions, true);
    for (int i = 0; i < 160; ++i) {
        const double exact = std::atan2(60 * std::sin(i * 2 * pi / 160), 20 * std::cos(i * 2 * pi / 160));
        EXPECT_NEAR(std::remainder(normals[i] - exact, 2 * pi), 0,
                    1e-9);  // chords of an ellipse are parallel
        EXPECT_LT(std::abs(normals[i] - directions[i]), pi / 2);
    }
}

TEST(Trace, RefusesADentAndSaysWhereAndHowDeep) {
    for (const bool closed : {true, false}) {
        std::vector<Vec2> points = circle_points(closed ? 36 : 18, 0, 10 * pi / 180);
        const Vec2 inward = (Vec2(3, -2) - points[9]).normalized();
        const double sagitta = 20 * (1 - std::cos(10 * pi / 180));  // of points 9 to 11
        points[9] += (sagitta + 0.75) * inward;
        const Trace trace = numbered(points);
        const std::string said = complaint([&] { refuse_dents(trace, {3, -2}, closed, 0.7); });
        EXPECT_NE(said.find("point 10 at"), std::string::npos) << said;
        EXPECT_NE(said.find("lies 0.75 mm inside the line from point 9 to point 11"), std::string::npos)
            << said;
        EXPECT_NO_THROW(refuse_dents(trace, {3, -2}, closed, 0.8));
    }
}

}  // namespace
}  // namespace limbwright::meshes::trace_test
