#include "models/bow/track_groove.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <stdexcept>

namespace limbwright::models::track_groove_test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr int around = 72;

/// Support function of the circle that all shapes here describe: radius 40 about (5, −3) [mm].
double distance(double psi) {
    return 40 + 5 * std::cos(psi) - 3 * std::sin(psi);
}

void expect_the_circle(const solver::Groove& groove, double tolerance) {
    for (double psi = -3; psi <= 3; psi += 0.1) EXPECT_NEAR(groove.at(psi).h, distance(psi), tolerance);
}

/// Points at a distance from (5, −3) that may depend on the direction.
Track::Traced traced(const std::function<double(double)>& radius) {
    Track::Traced trace;
    for (int i = 0; i < around; ++i) {
        const double angle = 2 * pi * i / around;
        trace.points.push_back(Vec2(5, -3) + radius(angle) * Vec2(std::cos(angle), std::sin(angle)));
    }
    return trace;
}

TEST(TrackGroove, ACircleIsTakenAsItIs) {
    Track track;
    track.circle = Track::Circle{.centre = Vec2(5, -3), .radius = 40};
    expect_the_circle(*groove_of(track), 1e-12);  // rounding
}

TEST(TrackGroove, ATraceIsFitted) {
    Track track;
    track.traced = traced([](double) { return 40; });
    expect_the_circle(*groove_of(track),
                      1e-6);  // the fit starts from the least-squares circle: rounding only
}

TEST(TrackGroove, ATableIsInterpolated) {
    Track track;
    track.support.emplace();
    for (int i = 0; i < around; ++i) {
        track.support->direction.push_back(2 * pi * i / around);
        track.support->distance.push_back(distance(2 * pi * i / around));
    }
    expect_the_circle(*groove_of(track), 1e-4);  // a cubic spline at steps d = 5°: about 6 mm d⁴ / 384
}

TEST(TrackGroove, AGrooveThatIsCarriedComesBackItself) {
    Track track;
    track.circle = Track::Circle{.centre = Vec2(5, -3), .radius = 40};
    track.groove = std::make_shared<const solver::Groove>(solver::Groove::circle(Vec2(0, 0), 10));
    EXPECT_EQ(groove_of(track), track.groove);
}

TEST(TrackGroove, AConcaveTraceIsRefused) {
    Track track;
    track.traced = traced([](double angle) { return 40 + 6 * std::cos(3 * angle); });  // three dents
    EXPECT_THROW((void)groove_of(track), std::invalid_argument);
}

TEST(TrackGroove, ATrackWithoutAShapeIsRefused) {
    EXPECT_THROW((void)groove_of(Track{}), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::models::track_groove_test
