#include "models/tuning/arrow.hpp"

#include <gtest/gtest.h>

#include "models/input/units.hpp"

namespace limbwright::models::arrow_test {
namespace {

constexpr double grain = units::pound_mass / 7000;

/// Of spine 370, about as long as a 29 in draw wants it.
Arrow usual_arrow() {
    return {28.25 * units::inch, 370, 115 * grain, 405 * grain};
}

/// Computed: W L³/(48 sag) with 1.94 lbf, 28 in; 1 lbf = 4.4482216152605 N [N mm²]; nine digits.
TEST(Arrow, StiffnessFollowsTheStandardsThreePointTest) {
    EXPECT_NEAR(bending_stiffness(370), 6881557.01, 0.01);
    EXPECT_NEAR(bending_stiffness(320), 7956800.29, 0.01);
    EXPECT_NEAR(bending_stiffness(500), 5092352.18, 0.01);
    EXPECT_NEAR(bending_stiffness(1000), 2546176.09, 0.01);
}

TEST(Arrow, SpineOfAStiffnessIsTheWayBack) {
    for (const double spine : {150., 370., 1000.})
        EXPECT_NEAR(spine_of(bending_stiffness(spine)), spine, 1e-9);
}

/// Computed: the same shaft under 2 lbf at 26 in; sag in inches and 26 over it, nine digits.
TEST(Arrow, ConvertsToTheOlderConvention) {
    const double stiffness = bending_stiffness(400);
    EXPECT_NEAR(older_sag(stiffness) / units::inch, 0.330167413, 1e-9);
    EXPECT_NEAR(older_pounds(stiffness), 78.747929, 1e-6);
    EXPECT_NEAR(spine_of(bending_stiffness_from_older(older_sag(stiffness))), 400, 1e-9);
}

/// By hand: F = 268 N, 26.2 g of which 7.5 g at the point; thrust 268 (7.5 + 9.4)/(26.2 + 10).
TEST(ShaftCheck, ComparesTheMeanPushInTheShaftWithItsEulerLoad) {
    const ShaftCheck check = check_shaft(usual_arrow(), 268);
    EXPECT_NEAR(check.thrust, 124.6, 0.5);
    EXPECT_NEAR(check.critical, 131.9, 0.1);
    EXPECT_EQ(check.ratio, check.thrust / check.critical);
}

/// What is commonly shot (common practice, from memory), peak weight in pounds, spine, length in inches,
/// point and total in grains: the spread from which the limits are taken.
TEST(ShaftCheck, CallsCommonPairsOfBowAndShaftPlausible) {
    struct Pair {
        double pounds, spine, inches, point, total;
    };
    for (const Pair& p :
         {Pair{30, 600, 28, 100, 320}, Pair{40, 500, 28, 100, 350}, Pair{50, 400, 28.5, 100, 375},
          Pair{60, 350, 28.5, 100, 400}, Pair{60, 400, 27.5, 100, 380}, Pair{70, 350, 28, 100, 420},
          Pair{70, 310, 29, 100, 430}}) {
        const ShaftCheck check = check_shaft(
            {p.inches * units::inch, p.spine, p.point * grain, p.total * grain}, p.pounds * units::pound);
        EXPECT_EQ(check.verdict, ShaftVerdict::plausible) << p.pounds << " lbf, spine " << p.spine;
        EXPECT_GT(check.ratio, 0.7) << p.pounds << " lbf, spine " << p.spine;
        EXPECT_LT(check.ratio, 1.05) << p.pounds << " lbf, spine " << p.spine;
    }
}

TEST(ShaftCheck, CallsASoftShaftOnAHeavyBowTooWeakAndAStiffOneOnALightBowTooStiff) {
    Arrow arrow = usual_arrow();
    arrow.spine = 600;
    EXPECT_EQ(check_shaft(arrow, 60 * units::pound).verdict, ShaftVerdict::too_weak);
    arrow.spine = 250;
    EXPECT_EQ(check_shaft(arrow, 35 * units::pound).verdict, ShaftVerdict::too_stiff);
}

TEST(ShaftCheck, AHeavierPointOrALongerShaftIsWeaker) {
    const Arrow usual = usual_arrow();
    Arrow longer = usual, heavier = usual;
    longer.length += 25;
    heavier.point_weight += 50 * grain;
    heavier.total_weight += 50 * grain;
    for (const Arrow& other : {longer, heavier})
        EXPECT_GT(check_shaft(other, 268).ratio, check_shaft(usual, 268).ratio);
}

}  // namespace
}  // namespace limbwright::models::arrow_test
