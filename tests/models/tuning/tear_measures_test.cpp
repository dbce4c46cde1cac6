#include "models/tuning/tear_measures.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "models/states/torque_sensitivity.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::tear_measures_test {
namespace {

double of(const testing::Drawn& d, const std::string& name) {
    return tear_measure(name, d.strung, d.draw);
}

TEST(TearMeasures, HaveNamesOfTheirOwnUnitsAndDefinitions) {
    std::set<std::string> names;
    for (const Measure& m : tear_measures()) {
        EXPECT_TRUE(names.insert(m.id).second) << m.name;
        EXPECT_FALSE(m.unit.empty() || m.definition.empty()) << m.name;
        EXPECT_TRUE(std::isfinite(of(testing::uneven_bow(), m.id))) << m.name;
    }
    EXPECT_THROW((void)of(testing::uneven_bow(), "tail_feathers"), std::invalid_argument);
}

TEST(TearMeasures, AreZeroSidewaysForASymmetricBow) {
    for (const char* name :
         {"tail_turn_lateral", "end_slope_lateral", "nock_side_force_at_peak", "side_push"})
        EXPECT_NEAR(of(testing::even_bow(), name), 0, 1e-6) << name;  // rounding of forces of order 100 N
}

TEST(TearMeasures, TurnTheirSignsSidewaysInTheMirroredBow) {
    const testing::Drawn mirror = testing::drawn(mirrored(testing::small_uneven_bow()));
    for (const char* name :
         {"tail_turn_lateral", "end_slope_lateral", "nock_side_force_at_peak", "side_push"}) {
        EXPECT_GT(std::abs(of(mirror, name)), 1e-3) << name;
        EXPECT_NEAR(of(mirror, name), -of(testing::uneven_bow(), name), 1e-6) << name;
    }
    for (const char* name : {"tail_turn_vertical", "end_slope_vertical"})
        EXPECT_NEAR(of(mirror, name), of(testing::uneven_bow(), name), 1e-6) << name;
}

/// By hand from the nocking point's places: over the rest, the tail ends left of where it started.
TEST(TearMeasures, TailTurnIsTheAngleAboutTheRestThroughWhichTheNockGoesLeft) {
    const testing::Drawn& d = testing::uneven_bow();
    const Vec3 rest = d.bow().bow.shooter.rest, full = nocking_point(d.bow(), d.full_state()),
               brace = nocking_point(d.bow(), d.draw.states.front().state);
    const double at_full = std::atan((full.y() - rest.y()) / (rest.x() - full.x()));
    const double at_brace = std::atan((brace.y() - rest.y()) / (rest.x() - brace.x()));
    EXPECT_NEAR(of(d, "tail_turn_lateral"), (at_brace - at_full) * 180 / M_PI, 1e-9);
}

TEST(TearMeasures, ARestFartherRightTurnsTheTailLeftAndHeadsItLeft) {
    Bow bow = testing::small_bow();
    bow.shooter.rest.y() -= 2;
    const testing::Drawn d = testing::drawn(bow);
    EXPECT_GT(of(d, "tail_turn_lateral"), 0.1);
    EXPECT_GT(of(d, "end_slope_lateral"), 0.1);
}

TEST(TearMeasures, ARestFartherDownTurnsTheTailHigh) {
    Bow bow = testing::small_bow();
    bow.shooter.rest.z() -= 2;
    const testing::Drawn d = testing::drawn(bow);
    EXPECT_GT(of(d, "tail_turn_vertical"), of(testing::even_bow(), "tail_turn_vertical") + 0.1);
}

/// The cubic through four states leaves hundredths of a degree with 25 states.
TEST(TearMeasures, EndSlopeHardlyDependsOnTheNumberOfStates) {
    const Bow bow = testing::demo_bow("crossed");
    const testing::Drawn coarse = testing::drawn(bow, testing::in_states(25)),
                         fine = testing::drawn(bow, testing::in_states(97));
    for (const char* name : {"end_slope_lateral", "end_slope_vertical"})
        EXPECT_NEAR(of(coarse, name), of(fine, name), 0.02) << name;
}

/// With a neutral hand the string pulls the nock through the pivot; across an arrow that points left of that
/// line it pushes to the right.
TEST(TearMeasures, NockSideForceOfANeutralHandIsTheDrawForceAcrossTheArrow) {
    const testing::Drawn& d = testing::uneven_bow();
    const DrawState& peak = *std::ranges::max_element(d.draw.states, {}, &DrawState::force);
    const double yaw = arrow_yaw(d.bow(), peak.state);
    EXPECT_NEAR(of(d, "nock_side_force_at_peak"), -peak.force * std::sin(yaw), 1e-5);
}

/// Moments about the pivot: a torque T from X to Y is held by a force −T/draw of the string on the nock.
TEST(TearMeasures, NockSideForceTellsTheHandsTorque) {
    Bow bow = testing::small_bow();
    bow.layout.hand_yaw_torque = 100;  // N mm
    const testing::Drawn d = testing::drawn(bow);
    const DrawState& peak = *std::ranges::max_element(d.draw.states, {}, &DrawState::force);
    const double expected = -100 / peak.draw - peak.force * std::sin(arrow_yaw(d.bow(), peak.state));
    EXPECT_NEAR(of(d, "nock_side_force_at_peak"), expected, 1e-4);
    EXPECT_EQ(of(d, "hand_torque_yaw"), 0.1);
}

/// As the story of the demo bow goes: bare shafts tear tail left.
TEST(TearMeasures, OfTheCrossedDemoBowSayTailLeft) {
    EXPECT_GT(of(testing::drawn(testing::demo_bow("crossed")), "tail_turn_lateral"), 0.3);
}

}  // namespace
}  // namespace limbwright::models::tear_measures_test
