#include "models/states/state_sensitivity.hpp"

#include <gtest/gtest.h>

#include "tests/support/strung.hpp"

namespace limbwright::models::state_sensitivity_test {
namespace {

using solver::State;
using solver::VecX;

/// The top cam's stop presses at full draw.
Bow beyond_a_stop() {
    Bow bow = testing::small_uneven_bow();
    bow.cam_top.stop = 2.6;
    return bow;
}

/// Drawn until the bottom cam's stop touches, the top one's pressing by then.
Bow drawn_to_its_stops() {
    Bow bow = testing::small_uneven_bow();
    bow.shooter.draw_length.reset();
    bow.cam_top.stop = 2.5;
    bow.cam_bottom.stop = 2.6;
    return bow;
}

/// A bow's states at brace and at full draw.
struct Known {
    Known(const Bow& bow, LengthRule rule)
        : drawn(testing::drawn(bow, testing::in_states(3))),
          sensitivity(drawn.strung, {drawn.full_state()}, rule) {}

    [[nodiscard]] StrungBow rebuilt(double Layout::*number, double change) const {
        Layout layout = drawn.bow().layout;
        layout.*number += change;
        return rebuilt_from(drawn.strung, assemble(drawn.bow().bow, layout), drawn.strung.lengths);
    }
    [[nodiscard]] StateSlopes by(double Layout::*number, double h) const {
        return sensitivity.by([&](double change) { return rebuilt(number, change); }, h);
    }

    testing::Drawn drawn;
    StateSensitivity sensitivity;
};

/// Brace and full draw with a number changed, strung and drawn anew, and the lengths.
struct Anew {
    Anew(const Known& known, LengthRule rule, double Layout::*number, double change) {
        Layout layout = known.drawn.bow().layout;
        layout.*number += change;
        const AssembledBow bow = assemble(known.drawn.bow().bow, layout);
        const StrungBow strung = testing::strung(
            rule == LengthRule::kept ? string_up(bow, known.drawn.strung.lengths) : string_up(bow));
        const double full = known.drawn.draw.states.back().draw;
        states = {strung.brace.state,
                  testing::drawn(strung, testing::draw_to(full, 3)).draw.states.back().state};
        lengths = twisted(strung.bow, strung.lengths);
    }
    std::vector<State> states;
    VecX lengths;
};

/// h² times third derivatives, 1e-2 of a slope per turn of a bolt squared.
constexpr double accuracy = 1e-3;

void expect_as_solved_anew(const Bow& bow, LengthRule rule) {
    const double h = 0.05;
    const Known known(bow, rule);
    const StateSlopes slopes = known.by(&Layout::bolt_top, h);
    const Anew more(known, rule, &Layout::bolt_top, h), less(known, rule, &Layout::bolt_top, -h);
    const solver::Numbering& n = known.drawn.bow().system.numbering();
    for (std::size_t i = 0; i < 2; ++i) {
        const State& today = known.sensitivity.today().states[i];
        const VecX anew =
            (step_between(today, more.states[i], n) - step_between(today, less.states[i], n)) / (2 * h);
        EXPECT_GT(anew.lpNorm<Eigen::Infinity>(), 0.1);
        EXPECT_LT((slopes.states[i] - anew).lpNorm<Eigen::Infinity>(),
                  accuracy * anew.lpNorm<Eigen::Infinity>())
            << i;
    }
    const VecX lengths = (more.lengths - less.lengths) / (2 * h);
    EXPECT_LT((slopes.lengths - lengths).lpNorm<Eigen::Infinity>(), accuracy);
}

TEST(StateSensitivity, OfKeptLengthsIsAsBowsSolvedAnew) {
    expect_as_solved_anew(testing::small_uneven_bow(), LengthRule::kept);
}

TEST(StateSensitivity, OfReTimedLengthsIsAsBowsSolvedAnew) {
    expect_as_solved_anew(testing::small_uneven_bow(), LengthRule::re_timed);
}

TEST(StateSensitivity, WhereAStopPressesIsAsBowsSolvedAnew) {
    const Bow bow = beyond_a_stop();
    ASSERT_LT(testing::drawn(bow).full("turn to stop, top"), 0);
    expect_as_solved_anew(bow, LengthRule::kept);
    expect_as_solved_anew(bow, LengthRule::re_timed);
}

/// At the end of a draw to the stops the slope is that of a bow whose last stop stands farther off.
TEST(StateSensitivity, WhereAStopJustTouchesIsThatOfTheDrawUpToIt) {
    const Known touching(drawn_to_its_stops(), LengthRule::re_timed);
    Bow bow = drawn_to_its_stops();
    bow.cam_bottom.stop = 2.8;
    bow.shooter.draw_length = touching.drawn.draw.states.back().draw + draw_length_beyond_pivot;
    const Known free(bow, LengthRule::re_timed);
    const VecX slope = touching.by(&Layout::bolt_top, 0.01).states[1];
    const VecX wanted = free.by(&Layout::bolt_top, 0.01).states[1];
    // Rounding of forces, 1e-8 N over the 0.02 turns between the bows, moves soft parts of 1 N/mm by 1e-6 mm.
    EXPECT_LT((slope - wanted).lpNorm<Eigen::Infinity>(), 1e-5);
    EXPECT_GT(wanted.lpNorm<Eigen::Infinity>(), 1);
}

TEST(StopPresses, FromBeyondWhereItTouches) {
    const Known beyond(beyond_a_stop(), LengthRule::kept), touching(drawn_to_its_stops(), LengthRule::kept);
    const auto presses = [](const Known& known, End end, const State& state) {
        return stop_presses(known.drawn.bow(), known.drawn.bow().axle(end), state);
    };
    EXPECT_FALSE(presses(beyond, End::top, beyond.drawn.strung.brace.state));
    EXPECT_TRUE(presses(beyond, End::top, beyond.drawn.full_state()));
    EXPECT_TRUE(presses(touching, End::top, touching.drawn.full_state()));
    EXPECT_FALSE(presses(touching, End::bottom, touching.drawn.full_state()));
}

TEST(StateSensitivity, OfReTimedTwistsIsZeroForTheyAreTakenBack) {
    const StateSlopes slopes =
        Known(testing::small_uneven_bow(), LengthRule::re_timed).by(&Layout::twist_string, 0.01);
    // Both halves of the string are 0.2 mm shorter a turn before they are re-timed.
    EXPECT_LT(slopes.lengths.lpNorm<Eigen::Infinity>(), 1e-6);
    for (const VecX& slope : slopes.states) EXPECT_LT(slope.lpNorm<Eigen::Infinity>(), 1e-5);
}

/// What is out of balance in the bows nearby falls with the square of their distance, but for a share of the
/// distance itself, a hundredth of a turn.
TEST(StateSensitivity, TellsBowsNearbyInBalanceToFirstOrder) {
    const Known known(beyond_a_stop(), LengthRule::re_timed);
    const auto unbalanced = [&](double h) {
        const BowStates more = known.by(&Layout::bolt_top, h).more;
        double largest = 0;
        for (std::size_t i = 0; i < 2; ++i) {
            VecX gradient = total_gradient(more.systems[i], more.states[i]);
            const AssembledBow& bow = more.strung.bow;
            for (const int f : i == 0 ? held_at_brace(bow) : held_while_drawing(bow)) gradient[f] = 0;
            largest = std::max(largest, gradient.lpNorm<Eigen::Infinity>());
        }
        return largest;
    };
    EXPECT_NEAR(unbalanced(0.02) / unbalanced(0.01), 4, 0.1);
}

}  // namespace
}  // namespace limbwright::models::state_sensitivity_test
