#include "models/states/torque_sensitivity.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/strung.hpp"

namespace limbwright::models::torque_sensitivity_test {
namespace {

using solver::State;

TEST(ArrowYaw, IsPositiveWhenTheArrowPointsLeft) {
    const Bow bow = testing::small_bow();
    const AssembledBow assembled = assemble(bow);
    State state = assembled.rest;
    EXPECT_NEAR(arrow_yaw(assembled, state), 0, 1e-15);
    state.at(assembled.nock[1]) = -2;  // the nock goes right
    const double length = bow.shooter.rest.x() - state.at(assembled.nock[0]);
    EXPECT_NEAR(arrow_yaw(assembled, state), std::atan(2 / length), 1e-12);
}

TEST(ArrowYaw, IsInTheWorld) {
    const AssembledBow assembled = assemble(testing::small_bow());
    State state = assembled.rest;
    const double before = arrow_yaw(assembled, state);
    state.at(assembled.riser.yaw) = 0.01;  // carries the rest to the left, the nocking point stays
    const double rest = 30 * std::sin(0.01);
    const double length = 30 * std::cos(0.01) - state.at(assembled.nock[0]);
    EXPECT_NEAR(arrow_yaw(assembled, state) - before, std::atan(rest / length), 1e-12);
}

TEST(PerYawTorque, IsTheDerivativeAlongTheStatesResponsePerNewtonMetre) {
    const testing::Drawn& d = testing::uneven_bow();
    const DrawState& last = d.draw.states.back();
    const solver::ScalarId yaw = d.bow().riser.yaw;
    const double per_newton_millimetre = last.yaw_torque_effect[d.bow().system.numbering().first(yaw)];
    ASSERT_GT(per_newton_millimetre, 0) << "a torque turns the riser its own way";
    EXPECT_NEAR(
        per_yaw_torque(last, [&](const State& x) { return x.at(yaw); }) / (1e3 * per_newton_millimetre), 1,
        1e-9);  // rounding over a step of about 1e-6 rad
}

TEST(PerYawTorque, IsNoNumberWhereTheResponseIsNotKnown) {
    DrawState state;
    EXPECT_TRUE(std::isnan(per_yaw_torque(state, [](const State&) { return 1.; })));
}

TEST(Forgiveness, OfAMirroredBowIsTheSame) {
    const testing::Drawn& d = testing::uneven_bow();
    const testing::Drawn image = testing::drawn(mirrored(testing::small_uneven_bow()));
    for (const std::size_t i : {std::size_t{0}, d.draw.states.size() - 1}) {
        EXPECT_NEAR(arrow_yaw_forgiveness(image.bow(), image.draw.states[i]) /
                        arrow_yaw_forgiveness(d.bow(), d.draw.states[i]),
                    1, 1e-6);
        EXPECT_NEAR(nock_travel_forgiveness(image.bow(), image.draw.states[i]) /
                        nock_travel_forgiveness(d.bow(), d.draw.states[i]),
                    1, 1e-6);
    }
}

}  // namespace
}  // namespace limbwright::models::torque_sensitivity_test
