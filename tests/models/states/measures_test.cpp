#include "models/states/measures.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <set>

#include "tests/support/strung.hpp"

namespace limbwright::models::measures_test {
namespace {

using solver::Pose;
using solver::State;

constexpr double degrees = 180 / std::numbers::pi;
/// What symmetry makes zero, of quantities of order one: rounding of a converged state.
constexpr double zero = 1e-8;

using testing::even_bow, testing::uneven_bow;

/// A bow at rest, changed by hand, as if it were a draw of two states: rest, then changed.
testing::Drawn by_hand(const Bow& bow, const std::function<void(const AssembledBow&, State&)>& change) {
    AssembledBow assembled = assemble(bow);
    DrawState rest, changed;
    rest.state = changed.state = assembled.rest;
    change(assembled, changed.state);
    solver::Equilibrium brace;
    brace.state = rest.state;
    return {{std::move(assembled), std::move(brace), {}}, {{rest, changed}, {}, {}}};
}

void turn(Pose& X, const Vec3& by) {
    X.rotation = solver::exp<double>(by) * X.rotation;
}

TEST(Measures, HaveNamesOfTheirOwnUnitsAndDefinitions) {
    std::set<std::string> names, ids;
    for (const Measure& m : state_measures(uneven_bow().bow())) {
        EXPECT_TRUE(names.insert(m.name).second) << m.name;
        EXPECT_TRUE(ids.insert(m.id).second) << m.name;
        EXPECT_TRUE(std::ranges::all_of(m.id, [](char c) {
            return std::islower(c) || std::isdigit(c) || c == '_';
        })) << m.id;
        EXPECT_FALSE(m.unit.empty()) << m.name;
        EXPECT_FALSE(m.definition.empty()) << m.name;
    }
}

TEST(Measures, AreToldWithTheirPlace) {
    const std::vector<Measure> all = state_measures(uneven_bow().bow());
    ASSERT_TRUE(find(all, "lean_top"));
    EXPECT_EQ(in_words({*find(all, "lean_top"), DrawPlace::full_draw}), "cam lean, top, at full draw");
    EXPECT_EQ(in_words("let-off", DrawPlace::whole), "let-off");
    EXPECT_FALSE(find(all, "cam lean, top"));
}

TEST(Measures, AreFiniteAllAlongTheDrawOfEveryDemoBow) {
    for (const char* name : testing::demo_bows) {
        const testing::Drawn d = testing::drawn(testing::demo_bow(name), testing::in_states(5));
        const auto measures = state_measures(d.bow());
        const auto all = values(measures, d.bow(), d.draw);
        for (std::size_t k = 0; k < measures.size(); ++k) {
            ASSERT_EQ(all[k].size(), d.draw.states.size());
            // A cam without a stop has no turn left to it.
            const bool stop = measures[k].name.find("stop") != std::string::npos;
            for (const double value : all[k])
                EXPECT_TRUE(std::isfinite(value) || stop) << name << ", " << measures[k].name;
        }
    }
}

TEST(Measures, OfASymmetricBowThatAreLateralAreZero) {
    for (const char* name :
         {"nock travel, lateral", "nock departure, lateral", "riser twist", "riser bend", "hand torque, roll",
          "cam lean, top", "cam lean, bottom", "cam toe, top", "cam toe, bottom", "guide side force",
          "bearing side force, top", "bearing side force, bottom"})
        for (std::size_t i = 0; i < even_bow().draw.states.size(); ++i)
            EXPECT_NEAR(even_bow().at(i, name), 0, 1e2 * zero) << name;  // forces are of order hundreds
}

TEST(Measures, OfABowThatIsItsOwnImageUpsideDownAreAlikeTopAndBottom) {
    Bow bow = testing::small_bow();
    bow.guide.kind = GuideKind::none;
    bow.brace.nocking_point_height = 0;
    const testing::Drawn d = testing::drawn(bow);
    EXPECT_NEAR(d.full("timing, turns"), 0, 1e2 * zero);
    EXPECT_NEAR(d.full("nock travel, vertical"), 0, 1e2 * zero);
    EXPECT_NEAR(d.full("tension, cable of the top take-up") / d.full("tension, cable of the bottom take-up"),
                1, zero);
    EXPECT_NEAR(d.full("strain, top left limb") / d.full("strain, bottom right limb"), 1, zero);
}

TEST(Measures, OfTheCamsLeanAreAlikeWhereABowLeansAlikeTopAndBottom) {
    Bow bow = testing::small_uneven_bow();
    bow.guide.kind = GuideKind::none;
    bow.riser = testing::small_bow().riser;
    bow.brace.nocking_point_height = 0;
    bow.layout = testing::small_bow().layout;
    const testing::Drawn d = testing::drawn(bow);
    EXPECT_GT(std::abs(d.full("cam lean, top")), 0.1);
    EXPECT_NEAR(d.full("cam lean, top"), d.full("cam lean, bottom"), 1e2 * zero);
    EXPECT_NEAR(d.full("cam toe, top"), d.full("cam toe, bottom"), 1e2 * zero);
}

TEST(Measures, CamLeanIsPositiveWhenTheOuterEdgeLeansToTheLeft) {
    for (const End end : {End::top, End::bottom}) {
        const testing::Drawn d = by_hand(testing::small_bow(), [&](const AssembledBow& bow, State& state) {
            // About +X what stands up goes right, what hangs down goes left.
            turn(state.at(bow.axle(end).middle), Vec3(0.02 * -sign(end), 0, 0));
        });
        EXPECT_NEAR(d.full(end == End::top ? "cam lean, top" : "cam lean, bottom"), 0.02 * degrees, 1e-12);
        const Pose cam = pose(d.bow().axle(end).cam, d.full_state());
        EXPECT_GT((cam * Vec3(0, 50 * sign(end), 0)).y(), 0);
    }
}

/// The rest is at (30, 0, 18), the nocking point 179 mm behind the pivot, near enough.
TEST(Measures, ArrowLinePointsFromTheNockingPointToTheRest) {
    Bow bow = testing::small_bow();
    bow.shooter.rest += Vec3(0, 2, 3);
    const testing::Drawn d = testing::drawn(bow, testing::in_states(3));
    const double along = d.full("draw");
    EXPECT_NEAR(d.full("arrow line, lateral"), std::atan(2 / (along + 30)) * degrees, 2e-3);
    EXPECT_GT(d.full("arrow line, vertical") - even_bow().full("arrow line, vertical"), 0.2);
    EXPECT_NEAR(even_bow().full("arrow line, lateral"), 0, zero * 1e2);
}

TEST(Measures, CamToeIsPositiveWhenTheStringSidePointsLeft) {
    for (const End end : {End::top, End::bottom}) {
        const testing::Drawn d = by_hand(testing::small_bow(), [&](const AssembledBow& bow, State& state) {
            turn(state.at(bow.axle(end).middle), Vec3(0, 0, -0.02));
        });
        EXPECT_NEAR(d.full(end == End::top ? "cam toe, top" : "cam toe, bottom"), 0.02 * degrees, 1e-12);
        EXPECT_GT((pose(d.bow().axle(end).cam, d.full_state()) * Vec3(-50, 0, 0)).y(), 0);
    }
}

TEST(Measures, CamLeanIsAgainstTheRiserNotTheWorld) {
    const testing::Drawn d = by_hand(testing::small_bow(), [](const AssembledBow& bow, State& state) {
        state.at(bow.riser.roll) = 0.02;
        turn(state.at(bow.axles[0].middle), Vec3(0.02, 0, 0));
    });
    EXPECT_NEAR(d.full("cam lean, top"), 0, 1e-12);
}

TEST(Measures, RiserTwistAndBendCompareTheTopWithTheBottom) {
    const testing::Drawn d = by_hand(testing::small_bow(), [](const AssembledBow& bow, State& state) {
        Pose& top = state.at(bow.riser.sections.back().node);
        turn(top, Vec3(0, 0, 0.01));
        top.position.y() += 0.4;
        state.at(bow.riser.sections.front().node).position.y() -= 0.2;
    });
    EXPECT_NEAR(d.full("riser twist"), 0.01 * degrees, 1e-12);
    EXPECT_NEAR(d.full("riser bend"), 0.6, 1e-12);
}

TEST(Measures, NockTravelIsInTheRisersFrame) {
    const testing::Drawn d = by_hand(testing::small_bow(), [](const AssembledBow& bow, State& state) {
        state.at(bow.riser.yaw) =
            0.01;  // turns the riser's X to the left: the nocking point falls behind to the left
        state.at(bow.nock[0]) = -500;
        state.at(bow.nock[2]) = 0;
    });
    EXPECT_NEAR(d.full("nock travel, lateral"), 500 * std::sin(0.01), 1e-12);
    EXPECT_NEAR(d.full("nock travel, vertical"), -20, 1e-12);
}

TEST(Measures, NockDepartureIsZeroAtBothEndsAndOnAStraightPath) {
    testing::Drawn d = by_hand(testing::small_bow(), [](const AssembledBow& bow, State& state) {
        state.at(bow.nock[0]) = -580;
        state.at(bow.nock[1]) = 2;
    });
    DrawState middle = d.draw.states[1];
    middle.state.at(d.bow().nock[0]) = -380;  // half way from −180
    middle.state.at(d.bow().nock[1]) = 1.25;
    d.draw.states.insert(d.draw.states.begin() + 1, middle);
    EXPECT_NEAR(d.brace("nock departure, lateral"), 0, 1e-12);
    EXPECT_NEAR(d.full("nock departure, lateral"), 0, 1e-12);
    EXPECT_NEAR(d.at(1, "nock departure, lateral"), 0.25, 1e-12);
    EXPECT_NEAR(d.at(1, "nock departure, vertical"), 0, 1e-12);
}

TEST(Measures, TurnToStopCountsDownToTheMeeting) {
    Bow bow = testing::small_bow();
    bow.cam_top.stop = 150 / degrees;
    bow.cam_bottom.stop = 160 / degrees;
    bow.shooter.draw_length.reset();
    const testing::Drawn d = testing::drawn(bow);
    EXPECT_NEAR(d.brace("turn to stop, top"), 150, 1e-9);
    EXPECT_NEAR(d.brace("timing, stops"), -10, 1e-9);
    EXPECT_NEAR(d.full("turn to stop, bottom"), 0, 1e-6);
    EXPECT_TRUE(std::isnan(even_bow().full("turn to stop, top")));
}

TEST(Measures, EnergyErrorIsWorkLessWhatIsStored) {
    const testing::Drawn& d = uneven_bow();
    EXPECT_EQ(d.brace("stored energy"), 0);
    EXPECT_NEAR(d.full("stored energy"), (d.draw.states.back().energy - d.draw.states.front().energy) * 1e-3,
                1e-12);
    EXPECT_NEAR(d.full("energy error"), d.full("work") - d.full("stored energy"), 1e-12);
}

TEST(Measures, StrainShareIsStrainOverTheAllowable) {
    EXPECT_NEAR(uneven_bow().full("strain share, top left limb"),
                uneven_bow().full("strain, top left limb") / 0.012, 1e-9);
    EXPECT_NEAR(uneven_bow().full("axle stress share, top"), uneven_bow().full("axle stress, top") / 14,
                1e-9);
}

TEST(Measures, OfForgivenessInTheLastStateAreThoseOfTheDraw) {
    const testing::Drawn& d = uneven_bow();
    EXPECT_EQ(d.full("forgiveness, arrow yaw"), d.whole("forgiveness, arrow yaw", "deg/(N m)"));
    EXPECT_EQ(d.full("forgiveness, nock travel"), d.whole("forgiveness, nock travel", "mm/(N m)"));
}

/// Against draws under ± 0.1 N m of the hand: a difference whose own error is of third order in the torque.
TEST(Measures, OfForgivenessAreChangesPerTorqueAtEqualDraw) {
    const testing::Drawn& none = uneven_bow();
    const auto under = [&](double torque) {
        Layout layout = none.bow().layout;
        layout.hand_yaw_torque = torque;
        return testing::drawn(
            testing::strung(string_up(assemble(none.bow().bow, layout), none.strung.lengths)));
    };
    const testing::Drawn left = under(100), right = under(-100);  // N mm
    for (const char* end : {"top", "bottom"}) {
        const std::string lean = std::string("cam lean, ") + end;
        EXPECT_NEAR(none.full(std::string("forgiveness, cam lean ") + end) /
                        ((left.full(lean) - right.full(lean)) / 0.2),
                    1, 1e-4);
    }
}

TEST(Measures, GoOnWhereAnIdlerHasNoTurn) {
    for (const Measure& m : state_measures(testing::strung(testing::demo_bow("single_cam")).bow)) {
        EXPECT_EQ(m.name.find("timing"), std::string::npos);
        EXPECT_NE(m.name, "cam turn, top");
    }
}

}  // namespace
}  // namespace limbwright::models::measures_test
