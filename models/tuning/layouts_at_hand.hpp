#pragma once

#include <variant>
#include <vector>

#include "models/tuning/bench_setup.hpp"

namespace limbwright::models {

/// A layout that lies near at hand, strung and drawn.
struct LayoutAtHand {
    Layout layout;
    LengthRule lengths = LengthRule::re_timed;
    std::variant<NotSolved, SolvedTune> answer{};
};

/// What can be tried without any study: the other pairings of the limbs that stand in the bow, each cam 1 mm
/// to either side, both together, and the guide 1 mm to either side. Lengths are re-timed, as after any work
/// on the press, but for the guide; see `TuneSolver`.
[[nodiscard]] std::vector<LayoutAtHand> layouts_at_hand(const TuneSolver& solver, int threads = 1);

}  // namespace limbwright::models
