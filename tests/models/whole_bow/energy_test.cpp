#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/observed_order.hpp"
#include "tests/support/strung.hpp"

/// What a draw stores is what it costs, and it all comes back.
namespace limbwright::models::whole_bow_energy_test {
namespace {

/// Largest difference of work and stored energy along a draw, over what it stores in all.
double energy_error(const StrungBow& strung, int states) {
    const Draw d = testing::whole(draw(strung, testing::in_states(states)));
    const std::vector<double> done = work(d);
    double largest = 0;
    for (std::size_t i = 0; i < done.size(); ++i)
        largest = std::max(largest, std::abs(done[i] - (d.states[i].energy - d.states[0].energy)));
    return largest / (d.states.back().energy - d.states[0].energy);
}

class EnergyOf : public ::testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(Demo, EnergyOf, ::testing::ValuesIn(testing::demo_bows),
                         [](const auto& name) { return std::string(name.param); });

TEST_P(EnergyOf, TheDrawIsTheWorkOfItsForce) {
    const StrungBow strung = testing::strung(testing::demo_bow(GetParam()));
    EXPECT_LT(energy_error(strung, 41), 1e-4);
}

/// A traced groove is a cubic spline, whose third derivative jumps at its knots: there the fourth order has
/// no constant factor. From 21 to 41 states the error still falls by more than 8.
TEST_P(EnergyOf, TheDrawIsBetterByMoreThanTheThirdPowerOfTheStates) {
    const StrungBow strung = testing::strung(testing::demo_bow(GetParam()));
    EXPECT_GT(testing::observed_order(energy_error(strung, 21), energy_error(strung, 41)), 3);
}

TEST(Energy, ErrorOfABowOfRoundTracksIsOfFourthOrder) {
    for (const Bow& bow : {testing::small_bow(), testing::small_uneven_bow()}) {
        const StrungBow strung = testing::strung(bow);
        const double coarse = energy_error(strung, 21), middle = energy_error(strung, 41),
                     fine = energy_error(strung, 81);
        EXPECT_NEAR(testing::observed_order(coarse, middle), 4, 0.2);
        EXPECT_NEAR(testing::observed_order(middle, fine), 4, 0.2);
    }
}

TEST(Energy, ErrorIsOfFourthOrderToTheStopsToo) {
    Bow bow = testing::small_bow();
    bow.shooter.draw_length.reset();
    bow.cam_top.stop = 2.6;
    bow.cam_bottom.stop = 2.8;
    const StrungBow strung = testing::strung(bow);
    EXPECT_LT(energy_error(strung, 41), 1e-4);
    EXPECT_GT(testing::observed_order(energy_error(strung, 41), energy_error(strung, 161)),
              2 * 3);  // two doublings
}

class LetDownOf : public ::testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(Demo, LetDownOf, ::testing::ValuesIn(testing::demo_bows),
                         [](const auto& name) { return std::string(name.param); });

/// The states are those of an energy, so that no history is left; what is left is where Newton ends: an error
/// of 1e-13 of the energy, 1e5 N mm, is √(2 · 1e-8 N mm / 1 N/mm) = 1.4e-4 mm in the softest way that a bow
/// has, and a force of stiffness times that.
TEST_P(LetDownOf, TheDrawComesBackToBraceThroughTheSameStates) {
    const testing::Drawn d = testing::drawn(testing::demo_bow(GetParam()), testing::in_states(21));
    const Draw back = testing::whole(let_down(d.strung, d.draw));
    ASSERT_EQ(back.states.size(), d.draw.states.size());
    for (std::size_t i = 0; i < back.states.size(); ++i) {
        const DrawState &there = d.draw.states[d.draw.states.size() - 1 - i], &here = back.states[i];
        EXPECT_NEAR(here.draw, there.draw, 1e-9);
        EXPECT_NEAR(here.force, there.force, 1e-3);
        for (std::size_t n = 0; n < here.state.nodes.size(); ++n)
            ASSERT_LT((here.state.nodes[n].position - there.state.nodes[n].position).norm(), 1.5e-4);
    }
    EXPECT_NEAR(back.states.back().force, 0, 1e-3);
    EXPECT_NEAR(back.states.back().energy / d.strung.brace.energy, 1, 1e-9);
}

}  // namespace
}  // namespace limbwright::models::whole_bow_energy_test
