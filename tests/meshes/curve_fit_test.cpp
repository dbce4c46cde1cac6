#include "meshes/curve_fit.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/support/complaint.hpp"

namespace limbwright::meshes::curve_fit_test {
namespace {

using testing::complaint;

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

/// The cam of these tests: convex, ρ between 25 and 58 mm, pole inside.
struct CamSupport {
    double h, h1;
};
CamSupport cam(double psi) {
    return {40 + 6 * std::sin(psi) + 4 * std::cos(2 * psi) + 0.75 * std::sin(3 * psi),
            6 * std::cos(psi) - 8 * std::sin(2 * psi) + 2.25 * std::cos(3 * psi)};
}
Vec2 cam_point(double psi) {
    const auto [h, h1] = cam(psi);
    return {h * std::cos(psi) - h1 * std::sin(psi), h * std::sin(psi) + h1 * std::cos(psi)};
}

std::vector<Vec2> traced(int count, double begin, double end, double noise = 0) {
    std::mt19937 random(11);
    std::normal_distribution<double> error(0, 1);
    std::vector<Vec2> points;
    for (int i = 0; i < count; ++i)
        points.push_back(cam_point(begin + (end - begin) * i / count) +
                         (noise > 0 ? noise * Vec2(error(random), error(random)) : Vec2::Zero().eval()));
    return points;
}

double largest_error(const Groove& groove, double begin, double end) {
    double largest = 0;
    for (int i = 0; i <= 720; ++i) {
        const double psi = begin + (end - begin) * i / 720;
        largest = std::max(largest, std::abs(groove.at(psi).h - cam(psi).h));
    }
    return largest;
}

TEST(FitTraced, RecoversACircleOffThePole) {
    std::vector<Vec2> points;
    for (int i = 0; i < 24; ++i)
        points.emplace_back(70 + 20 * std::cos(i * 15 * degree), 5 + 20 * std::sin(i * 15 * degree));
    const FittedGroove fitted = fit_traced(points);
    EXPECT_TRUE(std::isinf(fitted.groove.end()));
    EXPECT_LT(fitted.largest_misfit, 1e-9);  // a circle needs no spline; rounding of a least-squares fit
    EXPECT_NEAR(fitted.groove.at(1.0).h, 20 + 70 * std::cos(1.0) + 5 * std::sin(1.0), 1e-9);
}

TEST(FitTraced, RecoversACamFromExactPointsAllTheWayRound) {
    const FittedGroove fitted = fit_traced(traced(120, 0, 2 * pi));
    EXPECT_TRUE(std::isinf(fitted.groove.end()));
    // 90 knots: h'''' (2π/90)⁴ / 384 ≈ 1e-5; cross-validation may smooth by as much again
    EXPECT_LT(largest_error(fitted.groove, 0, 2 * pi), 5e-5);
    EXPECT_LT(fitted.largest_misfit, 5e-5);
    EXPECT_LE(fitted.rms, fitted.largest_misfit);
}

TEST(FitTraced, GivesTheSameCurveForPointsTheOtherWayRound) {
    std::vector<Vec2> points = traced(120, 0, 2 * pi);
    const Groove one = fit_traced(points).groove;
    std::ranges::reverse(points);
    const Groove other = fit_traced(points).groove;
    for (const double psi : {0.0, 1.0, 2.5, 5.0}) EXPECT_NEAR(one.at(psi).h, other.at(psi).h, 1e-8);
}

TEST(FitTraced, TakesAClosingPointThatRepeatsTheFirst) {
    std::vector<Vec2> points = traced(120, 0, 2 * pi);
    points.push_back(points.front());
    const FittedGroove fitted = fit_traced(points);
    EXPECT_TRUE(std::isinf(fitted.groove.end()));
    EXPECT_LT(largest_error(fitted.groove, 0, 2 * pi), 5e-5);
}

TEST(FitTraced, RecoversACamFromNoisyPoints) {
    const double noise = 0.1;
    const FittedGroove fitted = fit_traced(traced(180, 0, 2 * pi, noise));
    EXPECT_NEAR(fitted.rms, noise, 0.25 * noise);  // 180 points: 5 % scatter, and the freedoms of the fit
    EXPECT_LT(largest_error(fitted.groove, 0, 2 * pi), noise);  // three standard errors: 3 √(20/180) noise
    EXPECT_GT(fitted.groove.smallest_radius_of_curvature(), 15);  // really 25: ρ keeps within a third
}

TEST(FitTraced, RecoversAnOpenArcAndItsRange) {
    const double begin = -1.0;
    const double end = 3.2;
    const FittedGroove fitted = fit_traced(traced(100, begin, end));
    const double last = begin + 0.99 * (end - begin);
    EXPECT_NEAR(fitted.groove.begin(), begin, 1e-3);  // error of h' at the ends by ρ
    EXPECT_NEAR(fitted.groove.end(), last, 1e-3);
    EXPECT_LT(largest_error(fitted.groove, begin, last), 1e-4);  // 75 knots, least exact at the ends
}

TEST(FitTraced, RecoversAnOpenArcFromNoisyPoints) {
    const double noise = 0.05;
    const FittedGroove fitted = fit_traced(traced(100, 0.5, 4.0, noise));
    EXPECT_LT(largest_error(fitted.groove, 0.6, 3.85), 2 * noise);  // near the ends the errors are largest
    EXPECT_NEAR(fitted.groove.begin(), 0.5,
                0.05);  // a tangent's angle: noise by the length of a few spacings
    EXPECT_NEAR(fitted.groove.end(), 0.5 + 3.5 * 0.99, 0.05);
}

TEST(FitTraced, KeepsTheMiddleOfAnOpenArcWithinHalfATurnOfZero) {
    const FittedGroove fitted = fit_traced(traced(60, 2.0, 5.5));
    const double middle = (fitted.groove.begin() + fitted.groove.end()) / 2;
    EXPECT_NEAR(middle, 2.0 + 3.5 * 0.5 * 59 / 60 - 2 * pi, 1e-3);
}

TEST(FitTraced, FollowsASpiralOfMoreThanATurn) {
    std::vector<Vec2> points;  // an involute, h = 10 + 2 ψ
    for (int i = 0; i < 150; ++i) {
        const double psi = 7.5 * i / 149;
        const Vec2 n(std::cos(psi), std::sin(psi));
        points.push_back((10 + 2 * psi) * n + 2 * Vec2(-n.y(), n.x()));
    }
    const Groove groove = fit_traced(points).groove;
    ASSERT_TRUE(std::isfinite(groove.end()));
    EXPECT_NEAR(groove.end() - groove.begin(), 7.5, 1e-3);
    EXPECT_NEAR(groove.arc(groove.begin(), groove.end()), 10 * 7.5 + 7.5 * 7.5, 1e-3);  // ∫ρ dψ
}

TEST(FitTraced, RecoversAnElongatedOvalWhosePoleLiesOutside) {
    std::vector<Vec2> points;
    for (int i = 0; i < 160; ++i) {
        const double t = i * 2 * pi / 160;
        points.emplace_back(80 + 60 * std::cos(t), 20 * std::sin(t));
    }
    const Groove groove = fit_traced(points).groove;
    for (const double psi : {0.0, 0.4, 1.6, 3.0, 4.0})
        EXPECT_NEAR(groove.at(psi).h, 80 * std::cos(psi) + std::hypot(60 * std::cos(psi), 20 * std::sin(psi)),
                    2e-3)
            << psi;  // h'''' ≈ 5e4 at the flat sides, knots of 3°: 1e-3
}

TEST(FitTraced, RefusesUnorderedPoints) {
    std::vector<Vec2> points = traced(60, 0, 2 * pi);
    std::ranges::shuffle(points, std::mt19937(3));
    EXPECT_NE(
        complaint([&] { (void)fit_traced(points); }).find("the points must be in order round the groove"),
        std::string::npos);
}

TEST(FitTraced, RefusesAConcaveStretchAndSaysWhere) {
    std::vector<Vec2> points = traced(72, 0, 2 * pi);
    for (int i = 28; i < 37; ++i) points[i] *= 1 - 0.12 * std::sin(pi * (i - 27) / 10);
    const std::string said = complaint([&] { (void)fit_traced(points); });
    EXPECT_NE(said.find("point 33 at"), std::string::npos) << said;
    EXPECT_NE(said.find("the groove must be convex"), std::string::npos) << said;
}

TEST(FitTraced, RefusesAPointThatSlippedOutward) {
    std::vector<Vec2> points = traced(72, 0, 2 * pi);
    points[40] *= 1.05;  // beside it dents open
    const std::string said = complaint([&] { (void)fit_traced(points, {.allowed_misfit = 1.0}); });
    EXPECT_NE(said.find("the groove must be convex"), std::string::npos) << said;
    EXPECT_NE(said.find("point 41"), std::string::npos)
        << said;  // an end of the line that the dents lie inside
}

TEST(FitTraced, RefusesASharpCorner) {
    std::vector<Vec2> points;  // a square of 80 by 80
    for (int i = -8; i < 8; ++i) points.emplace_back(40, 5 * i);
    for (int i = 8; i > -8; --i) points.emplace_back(5 * i, 40);
    for (int i = 8; i > -8; --i) points.emplace_back(-40, 5 * i);
    for (int i = -8; i < 8; ++i) points.emplace_back(5 * i, -40);
    const std::string said = complaint([&] { (void)fit_traced(points, {.allowed_misfit = 0.2}); });
    EXPECT_NE(said.find("convex curve, where 0.20 mm are allowed"), std::string::npos) << said;
}

TEST(FitTraced, RefusesAClosedGrooveWhosePointsGoHalfRound) {
    const std::vector<Vec2> points = traced(40, 0, 2.5);
    EXPECT_NE(complaint([&] { (void)fit_traced(points, {.closed = true}); }).find("must go round once"),
              std::string::npos);
}

struct Table {
    std::vector<double> directions, distances;
};
Table table(int rows, double begin, double step) {
    Table t;
    for (int i = 0; i < rows; ++i) {
        t.directions.push_back(begin + i * step);
        t.distances.push_back(cam(t.directions.back()).h);
    }
    return t;
}

TEST(GrooveFromSupport, FollowsATableOfAFullTurnWithOrWithoutItsLastRow) {
    for (const int rows : {120, 121}) {
        const Table t = table(rows, -1.3, 3 * degree);
        const Groove groove = groove_from_support(t.directions, t.distances);
        EXPECT_TRUE(std::isinf(groove.end()));
        EXPECT_LT(largest_error(groove, 0, 2 * pi), 5e-5);  // as for traced points
    }
}

TEST(GrooveFromSupport, FollowsATableOfAPartOfATurn) {
    const Table t = table(61, 2.0, 3 * degree);
    const Groove groove = groove_from_support(t.directions, t.distances);
    EXPECT_EQ(groove.begin(), t.directions.front());
    EXPECT_EQ(groove.end(), t.directions.back());
    EXPECT_LT(largest_error(groove, groove.begin(), groove.end()), 2e-4);  // least exact at the ends
}

TEST(GrooveFromSupport, SmoothsATableThatWasRounded) {
    Table t = table(360, 0, degree);
    for (double& h : t.distances) h = std::round(h * 100) / 100;
    const Groove groove = groove_from_support(t.directions, t.distances);
    EXPECT_LT(largest_error(groove, 0, 2 * pi), 0.005);
    EXPECT_GT(groove.smallest_radius_of_curvature(), 20);  // really 25; interpolated it would be negative
}

TEST(GrooveFromSupport, RefusesRowsThatDoNotRise) {
    Table t = table(40, 0, 3 * degree);
    t.directions[7] = t.directions[6];
    EXPECT_NE(
        complaint([&] { (void)groove_from_support(t.directions, t.distances); }).find("row 8: the direction"),
        std::string::npos);
}

TEST(GrooveFromSupport, RefusesUnequalColumnsFewRowsAndNonNumbers) {
    Table t = table(40, 0, 3 * degree);
    const std::span<const double> directions(t.directions);
    EXPECT_NE(complaint([&] {
                  (void)groove_from_support(directions.first(39), t.distances);
              }).find("39 directions"),
              std::string::npos);
    EXPECT_NE(complaint([&] {
                  (void)groove_from_support(directions.first(5), std::span(t.distances).first(5));
              }).find("only 5 rows"),
              std::string::npos);
    t.distances[3] = std::nan("");
    EXPECT_NE(complaint([&] { (void)groove_from_support(directions, t.distances); }).find("row 4 is not"),
              std::string::npos);
}

TEST(GrooveFromSupport, RefusesDegrees) {
    Table t = table(120, 0, 3 * degree);
    for (double& direction : t.directions) direction /= degree;
    EXPECT_NE(
        complaint([&] { (void)groove_from_support(t.directions, t.distances); }).find("radians are wanted"),
        std::string::npos);
}

TEST(GrooveFromSupport, RefusesAFullTurnThatDoesNotClose) {
    Table t = table(121, 0, 3 * degree);
    t.distances.back() += 1;
    EXPECT_NE(
        complaint([&] { (void)groove_from_support(t.directions, t.distances); }).find("a full turn after"),
        std::string::npos);
}

TEST(GrooveFromSupport, RefusesASupportThatIsNotConvex) {
    Table t = table(120, 0, 3 * degree);
    for (std::size_t i = 0; i < t.directions.size(); ++i)
        t.distances[i] = 40 + 6 * std::cos(3 * t.directions[i]);
    EXPECT_NE(
        complaint([&] { (void)groove_from_support(t.directions, t.distances); }).find("must be positive"),
        std::string::npos);
}

}  // namespace
}  // namespace limbwright::meshes::curve_fit_test
