#include "models/states/draw.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "tests/support/strung.hpp"

namespace limbwright::models::draw_test {
namespace {

constexpr double degree = std::numbers::pi / 180;

Bow with_stops(double top, double bottom) {
    Bow bow = testing::small_bow();
    bow.cam_top.stop = top * degree;
    bow.cam_bottom.stop = bottom * degree;
    bow.shooter.draw_length.reset();
    return bow;
}

double past_stop(const AssembledBow& bow, std::size_t end, const solver::State& state) {
    const AxleParts& axle = bow.axles[end];
    const auto& stop = static_cast<const solver::Spring&>(*bow.system.elements()[*axle.stop]);
    return axle.draw_sense * (stop.value(state) - stop.data().rest);
}

/// A draw with the force a polynomial, for the quadrature alone.
Draw made_up(double (*force)(double), double (*slope)(double), int steps) {
    Draw d;
    for (int i = 0; i <= steps; ++i) {
        DrawState s;
        s.draw = 200 + 400. * i / steps;
        s.force = force(s.draw);
        s.stiffness = s.stiffness_beyond = slope(s.draw);
        d.states.push_back(s);
    }
    return d;
}

TEST(FullDraw, IsTheDrawLengthLessOneAndThreeQuarterInches) {
    Bow bow = testing::small_bow();
    bow.shooter.draw_length = 29 * 25.4;
    EXPECT_DOUBLE_EQ(*full_draw(bow), 27.25 * 25.4);
    bow.shooter.draw_length.reset();
    EXPECT_FALSE(full_draw(bow));
}

TEST(Draw, RunsFromBraceToFullDrawInEqualSteps) {
    const StrungBow s = testing::strung(testing::small_bow());
    const Draw d = testing::whole(draw(s));
    ASSERT_EQ(d.states.size(), 9u);
    EXPECT_NEAR(d.states.front().draw, nocking_point(s.bow, s.brace.state).norm(), 1e-9);
    EXPECT_DOUBLE_EQ(d.states.back().draw, 600);
    const double step = d.states[1].draw - d.states[0].draw;
    for (std::size_t i = 1; i < d.states.size(); ++i)
        EXPECT_NEAR(d.states[i].draw - d.states[i - 1].draw, step, 1e-9);
    EXPECT_TRUE(d.warnings.empty());
}

TEST(Draw, BeginsWithoutForceAndGivesItsSlope) {
    const StrungBow s = testing::strung(testing::small_bow());
    const Draw d = testing::whole(draw(s, testing::draw_to(220, 401)));
    EXPECT_NEAR(d.states.front().force, 0, 1e-6);
    for (const std::size_t i : {100u, 200u, 300u}) {
        const double slope =
            (d.states[i + 1].force - d.states[i - 1].force) / (d.states[i + 1].draw - d.states[i - 1].draw);
        EXPECT_NEAR(d.states[i].stiffness / slope, 1,
                    1e-5);  // central difference over a quarter of a millimetre
    }
}

TEST(Draw, TakesOtherEndsAndStatesThanTheBows) {
    const Draw d = testing::whole(draw(testing::strung(testing::small_bow()), testing::draw_to(400, 5)));
    EXPECT_EQ(d.states.size(), 5u);
    EXPECT_DOUBLE_EQ(d.states.back().draw, 400);
}

TEST(Draw, RunsToTheLaterStopWhereNoLengthIsGiven) {
    const StrungBow s = testing::strung(with_stops(150, 160));
    const Draw d = testing::whole(draw(s));
    const solver::State& full = d.states.back().state;
    EXPECT_GT(past_stop(s.bow, 0, full), 0);
    EXPECT_NEAR(past_stop(s.bow, 1, full), 0, 1e-8);  // found to 1e-7 mm of draw
}

TEST(Draw, HasAStateWhereAnEarlierStopMeets) {
    const StrungBow s = testing::strung(with_stops(150, 160));
    const Draw d = testing::whole(draw(s));
    const auto meets = [&](const DrawState& x) { return std::abs(past_stop(s.bow, 0, x.state)) < 1e-8; };
    const auto at = std::find_if(d.states.begin(), d.states.end(), meets);
    ASSERT_NE(at, d.states.end());
    EXPECT_GT(at->stiffness_beyond, at->stiffness + 1);  // N/mm: the wall begins here
}

TEST(Draw, PastItsStopsMeetsAWall) {
    Bow bow = with_stops(180, 180);
    const StrungBow s = testing::strung(bow);
    const Draw to_stop = testing::whole(draw(s));
    const double wall = to_stop.states.back().draw;
    const Draw past = testing::whole(draw(s, testing::draw_to(wall + 5)));
    // Before the stop the force falls or holds; past it string and limbs alone give way, without leverage.
    EXPECT_LT(std::abs(to_stop.states[to_stop.states.size() - 2].stiffness), 3);
    EXPECT_GT(past.states.back().stiffness, 10);
    EXPECT_GT(past.states.back().force, to_stop.states.back().force + 50);
}

TEST(Draw, SaysThatItHasNeitherLengthNorStop) {
    Bow bow = testing::small_bow();
    bow.shooter.draw_length.reset();
    const Draw d = draw(testing::strung(bow));
    ASSERT_TRUE(d.failure);
    EXPECT_NE(d.failure->find("neither a draw length nor a draw stop"), std::string::npos) << *d.failure;
}

TEST(Draw, SaysWhichCableRunsOffItsGrooveAndWhere) {
    Bow bow = testing::small_bow();
    bow.cam_top.let_out->anchor = 60 * degree;
    const Draw d = draw(testing::strung(bow));
    ASSERT_TRUE(d.failure);
    EXPECT_NE(d.failure->find("cable of the bottom take-up has run off the end of its groove"),
              std::string::npos);
    // It stops at the last state whose run still leaves before the post, and keeps what was drawn so far.
    ASSERT_GT(d.states.size(), 1u);
    EXPECT_NE(d.failure->find(fmt::format("stops at {:.1f} mm", d.states.back().draw)), std::string::npos);
    const StrungBow s = testing::strung(bow);
    for (const DrawState& x : d.states) EXPECT_FALSE(s.bow.cable(s.bow.cables[1]).path(x.state).off_groove);
}

TEST(Draw, SaysWhichCableGoesSlack) {
    // Far past their stops the cams are held, and the limb tips come together until a cable hangs loose.
    const Draw d = draw(testing::strung(with_stops(150, 150)), testing::draw_to(640));
    ASSERT_FALSE(d.warnings.empty());
    EXPECT_NE(d.warnings[0].find("is slack"), std::string::npos) << d.warnings[0];
}

/// Cams that no cable couples and that part in the draw: either of them may run ahead, and both states are
/// stable.
class PartingCams : public ::testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(Bows, PartingCams, ::testing::Values("parting", "parting_early"),
                         [](const auto& name) { return std::string(name.param); });

TEST_P(PartingCams, EndInOneStateInHoweverFewStatesTheyAreDrawn) {
    const StrungBow s =
        testing::strung(read_bow(std::string(SOURCE_DIR) + "/tests/support/bows/" + GetParam() + ".toml"));
    const DrawState fine = testing::whole(draw(s, testing::in_states(41))).states.back();
    for (const int states : {2, 3, 5, 11}) {
        const DrawState coarse = testing::whole(draw(s, testing::in_states(states))).states.back();
        for (const End end : {End::top, End::bottom})
            EXPECT_NEAR(cam_turn(s.bow, end, coarse.state), cam_turn(s.bow, end, fine.state), 1e-6)
                << states << " states";  // Newton's residual over a stiffness of 4e4 N mm/rad
    }
}

TEST(Draw, SaysThatItStandsPastItsStops) {
    Bow bow = testing::demo_bow("crossed");
    bow.cam_top.stop = bow.cam_bottom.stop = 120 * degree;
    const Draw d = draw(testing::strung(bow));
    ASSERT_TRUE(d.failure);
    EXPECT_NE(d.failure->find("top cam stands"), std::string::npos) << *d.failure;
    EXPECT_NE(d.failure->find("past its draw stop"), std::string::npos) << *d.failure;
    EXPECT_NE(d.failure->find("set the stops later"), std::string::npos) << *d.failure;
}

TEST(Draw, ThatMustFailKeepsItsStatesAndSaysWhereAndWhy) {
    Bow bow = testing::small_bow();
    for (const double sense : {1., -1.}) {
        Cam& cam = sense > 0 ? bow.cam_top : bow.cam_bottom;
        cam.string.anchor -=
            sense * 40 * std::numbers::pi;  // cable enough in the grooves not to run off them
        cam.let_out->anchor -= sense * 40 * std::numbers::pi;
    }
    const Draw d = draw(testing::strung(bow), testing::draw_to(3000, 30));
    ASSERT_TRUE(d.failure);  // nothing is left to draw: string and limbs lie straight
    EXPECT_GT(d.states.size(), 1u);
    double reached = 0;
    ASSERT_EQ(std::sscanf(d.failure->c_str(), "the draw stops at %lf mm", &reached), 1) << *d.failure;
    EXPECT_GE(reached, d.states.back().draw - 0.05);  // as printed
    EXPECT_LT(reached, d.states.back().draw + (3000 - d.states[0].draw) / 29);
    EXPECT_NE(d.failure->find("; at the "), std::string::npos) << *d.failure;
}

TEST(DrawForce, IsTakenFromTheStringAlone) {
    const testing::Drawn& drawn = testing::uneven_bow();
    for (const DrawState& s : drawn.draw.states)
        // Of the two strings' pulls, a thousand newtons, what is left carries their rounding.
        EXPECT_NEAR(draw_force(drawn.bow(), s.state), s.force, 1e-9 * 1000);
}

TEST(YawTorque, LoadsTheGripsYawAlone) {
    const AssembledBow& bow = testing::uneven_bow().bow();
    const solver::VecX load = yaw_torque(bow);
    EXPECT_EQ(load[bow.system.numbering().first(bow.riser.yaw)], 1);
    EXPECT_EQ(load.sum(), 1);
    EXPECT_EQ(load.squaredNorm(), 1);
}

TEST(DrawState, IsReadOffAStateAsOffThePath) {
    const testing::Drawn& drawn = testing::uneven_bow();
    for (const DrawState& s : drawn.draw.states) {
        const DrawState read = draw_state(drawn.bow(), s.state);
        EXPECT_DOUBLE_EQ(read.draw, s.draw);
        EXPECT_NEAR(read.force, s.force, 1e-9 * 1000);  // as above
        EXPECT_EQ(step_between(read.state, s.state, drawn.bow().system.numbering()).norm(), 0);
    }
}

TEST(Draw, PeaksInTheFirstStateOfTheLargestForce) {
    Draw d = made_up([](double x) { return x < 400 ? x : 800 - x; }, [](double) { return 0.; }, 8);
    EXPECT_EQ(d.peak_index(), 4u);
    EXPECT_EQ(d.peak().force, 400);
    d.states[2].force = 400;
    EXPECT_EQ(d.peak_index(), 2u);
}

TEST(Work, IsExactForACubicForce) {
    const auto force = [](double x) { return 3 - 0.2 * x + 4e-3 * x * x - 6e-6 * x * x * x; };
    const auto slope = [](double x) { return -0.2 + 8e-3 * x - 1.8e-5 * x * x; };
    const auto integral = [](double x) {
        return 3 * x - 0.1 * x * x + 4e-3 / 3 * x * x * x - 1.5e-6 * x * x * x * x;
    };
    const std::vector<double> w = work(made_up(force, slope, 5));
    EXPECT_EQ(w.front(), 0);
    EXPECT_NEAR(w.back() / (integral(600) - integral(200)), 1, 1e-13);
}

TEST(Work, IsOfFourthOrder) {
    const auto error = [](int steps) {
        const Draw d = made_up([](double x) { return std::sin(x / 100); },
                               [](double x) { return std::cos(x / 100) / 100; }, steps);
        return work(d).back() - 100 * (std::cos(2) - std::cos(6));
    };
    EXPECT_NEAR(std::log2(error(10) / error(20)), 4, 0.1);
}

}  // namespace
}  // namespace limbwright::models::draw_test
