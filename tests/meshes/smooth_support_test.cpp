#include "meshes/smooth_support.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace limbwright::meshes::smooth_support_test {
namespace {

constexpr double pi = std::numbers::pi;

double cam_h(double psi) {
    return 40 + 6 * std::sin(psi) + 2 * std::cos(2 * psi);
}

struct Table {
    std::vector<double> directions, distances;
};

Table table(int rows, double begin, double end, double noise) {
    std::mt19937 random(7);
    std::normal_distribution<double> error(0, 1);
    Table t;
    for (int i = 0; i < rows; ++i) {
        const double psi = begin + (end - begin) * i / rows;
        t.directions.push_back(psi);
        t.distances.push_back(cam_h(psi) + noise * error(random));
    }
    return t;
}

double rms_error(const Groove& groove, double begin, double end) {
    double sum = 0;
    for (int i = 0; i < 500; ++i) {
        const double psi = begin + (end - begin) * (i + 0.5) / 500;
        const double error = groove.at(psi).h - cam_h(psi);
        sum += error * error;
    }
    return std::sqrt(sum / 500);
}

TEST(SmoothSupport, KnotsAreFewerThanDataAndNoCloserThanThreeDegrees) {
    EXPECT_EQ(knots_for(40, {.closed = true}), 30);
    EXPECT_EQ(knots_for(1000, {.closed = true}), 120);
    EXPECT_EQ(knots_for(1000, {0, pi, false}), 60);
    EXPECT_EQ(knots_for(8, {.closed = true}), 6);
}

TEST(SmoothSupport, FollowsExactDataClosely) {
    const Table exact = table(90, 0, 2 * pi, 0);
    const SupportFit fit({.closed = true}, {{0, 0}, 40}, 60, exact.directions, exact.distances);
    EXPECT_LT(rms_error(fit.groove(fit.best_weight()), 0, 2 * pi),
              2e-5);  // spline: h'''' (2π/60)⁴ / 384 ≈ 1e-5
}

TEST(SmoothSupport, CrossValidationSmoothsNoiseBetterThanHardlyAnySmoothing) {
    const double noise = 0.1;
    for (const bool closed : {true, false}) {
        const double end = closed ? 2 * pi : 4.0;
        const Table noisy = table(200, 0, end, noise);
        const SupportRange range{0, noisy.directions.back(), closed};
        const SupportFit fit(range, {{0, 0}, 40}, knots_for(200, range), noisy.directions, noisy.distances);
        const double chosen = rms_error(fit.groove(fit.best_weight()), 0, range.end);
        const double least = rms_error(fit.groove(least_weight), 0, range.end);
        EXPECT_LT(chosen,
                  0.5 * noise);  // of 200 data some ten freedoms are left: √(10 / 200) and a margin of two
        EXPECT_LT(chosen, 0.7 * least);
    }
}

TEST(SmoothSupport, AHugeWeightLeavesTheBaseCircle) {
    const Table exact = table(90, 0, 2 * pi, 0);
    const SupportFit fit({.closed = true}, {{0, 6}, 40}, 60, exact.directions, exact.distances);
    const Groove groove = fit.groove(1e3);
    for (const double psi : {0.5, 2.0, 4.5})  // 2 cos 2ψ is divided by 1 + 36 weight²
        EXPECT_NEAR(groove.at(psi).h, 40 + 6 * std::sin(psi), 1e-6);
}

TEST(SmoothSupport, BridgesAGapInTheData) {
    Table gappy;
    for (int i = 0; i < 120; ++i) {
        const double psi = 2 * pi * i / 120;
        if (psi > 2 && psi < 3) continue;
        gappy.directions.push_back(psi);
        gappy.distances.push_back(cam_h(psi));
    }
    const SupportFit fit({.closed = true}, {{0, 0}, 40}, 80, gappy.directions, gappy.distances);
    const Groove groove = fit.groove(fit.best_weight());
    EXPECT_NEAR(groove.at(2.5).h, cam_h(2.5), 0.05);
    EXPECT_GT(groove.smallest_radius_of_curvature(), 0);
}

}  // namespace
}  // namespace limbwright::meshes::smooth_support_test
