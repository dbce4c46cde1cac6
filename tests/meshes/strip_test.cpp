#include "meshes/strip.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace limbwright::meshes::strip_test {
namespace {

constexpr solver::Moduli glass{42000, 4200};

/// Midpoint rule on 400 pieces of an integrand like a²: relative error 1/(4 · 400²) = 1.6e-6.
constexpr double midpoint_accuracy = 3e-6;

Strip straight(double width_at_tip) {
    return {300, {{0, 30, 8, 0}, {1, width_at_tip, 8, 0}}};
}

TEST(Strip, IsLinearBetweenStations) {
    const Strip strip{300, {{0, 30, 8, 0}, {0.5, 20, 6, 0.002}, {1, 24, 5, 0}}};
    const StripStation s = strip.at(0.25);
    EXPECT_DOUBLE_EQ(s.width, 25);
    EXPECT_DOUBLE_EQ(s.thickness, 7);
    EXPECT_DOUBLE_EQ(s.curvature, 0.001);
    EXPECT_DOUBLE_EQ(strip.at(0).width, 30);
    EXPECT_DOUBLE_EQ(strip.at(1).width, 24);
}

TEST(Strip, OfConstantCurvatureIsACircularArcThatTurnsAwayFromItsThirdAxis) {
    const double R = 500, L = 300, turn = L / R;
    const Strip strip{L, {{0, 30, 8, 1 / R}, {1, 30, 8, 1 / R}}};
    const auto poses = section_poses(strip, {}, even_shares(0, 1, 7));
    ASSERT_EQ(poses.size(), 8u);
    const solver::Vec3 tip(R * std::sin(turn), 0, -R * (1 - std::cos(turn)));
    EXPECT_LT((poses.back().position - tip).norm(), 1e-10);  // rounding
    const solver::Vec3 along = poses.back().rotation * solver::Vec3(solver::Vec3::UnitX());
    EXPECT_LT((along - solver::Vec3(std::cos(turn), 0, -std::sin(turn))).norm(), 1e-13);
}

TEST(Strip, SharesAreEvenAndHitBothEnds) {
    const std::vector<double> shares = even_shares(0.25, 1, 3);
    ASSERT_EQ(shares.size(), 4u);
    EXPECT_DOUBLE_EQ(shares[0], 0.25);
    EXPECT_DOUBLE_EQ(shares[1], 0.5);
    EXPECT_DOUBLE_EQ(shares[3], 1);
}

/// 1/rate = L³/(3 E I) + L/(5/6 G A).
TEST(FlatwiseRate, OfAUniformStripIsThatOfACantilever) {
    const double L = 300, area = 30 * 8, I = 30 * 512. / 12;
    const double flexibility = L * L * L / (3 * glass.young * I) + L / (5. / 6 * glass.shear * area);
    EXPECT_NEAR(flatwise_rate(straight(30), glass) * flexibility, 1, midpoint_accuracy);
}

/// Width w₀ (k + c s) at the share s of the length from the tip, k + c = 1:
///     1/rate = L³/(E I₀) ∫ s²/(k + c s) ds + L/(5/6 G A₀) ∫ 1/(k + c s) ds,
///     ∫₀¹ s²/(k + c s) ds = 1/(2c) − k/c² + k²/c³ ln(1/k),   ∫₀¹ 1/(k + c s) ds = ln(1/k)/c.
TEST(FlatwiseRate, OfAWidthTaperIsTheClosedForm) {
    const double L = 300, k = 18. / 30, c = 1 - k, area = 30 * 8, I = 30 * 512. / 12;
    const double bending = 1 / (2 * c) - k / (c * c) + k * k / (c * c * c) * std::log(1 / k);
    const double shear = std::log(1 / k) / c;
    const double flexibility =
        L * L * L * bending / (glass.young * I) + L * shear / (5. / 6 * glass.shear * area);
    EXPECT_NEAR(flatwise_rate(straight(18), glass) * flexibility, 1, midpoint_accuracy);
}

/// Arc of half-angle α, chord from root to tip: ∫ a² ds = R³ (2 α sin²α + α − ½ sin 2α).
TEST(FlatwiseRate, OfAnArcIsAcrossItsChord) {
    const double R = 250, L = 300, alpha = L / (2 * R), area = 30 * 8, I = 30 * 512. / 12;
    const Strip arc{L, {{0, 30, 8, 1 / R}, {1, 30, 8, 1 / R}}};
    const double bending =
        R * R * R * (2 * alpha * std::sin(alpha) * std::sin(alpha) + alpha - 0.5 * std::sin(2 * alpha));
    const double flexibility = bending / (glass.young * I) + L / (5. / 6 * glass.shear * area);
    EXPECT_NEAR(flatwise_rate(arc, glass) * flexibility, 1, midpoint_accuracy);
}

TEST(FlatwiseRate, IsInProportionToTheModuli) {
    const solver::Moduli twice{2 * glass.young, 2 * glass.shear};
    EXPECT_DOUBLE_EQ(flatwise_rate(straight(18), twice), 2 * flatwise_rate(straight(18), glass));
}

}  // namespace
}  // namespace limbwright::meshes::strip_test
