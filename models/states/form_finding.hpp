#pragma once

#include <functional>
#include <string>
#include <variant>

#include "models/parts/assembled_bow.hpp"
#include "solver/system/equilibrium.hpp"

namespace limbwright::models {

/// A bow held up by dead tensions: cams at their marks, riser upright and held.
struct DeadStrung {
    solver::State state;
    double string_tension = 0;           ///< of both halves [N]
    std::vector<double> cable_tensions;  ///< without yoke legs
};

/// Where the tensions shall lead.
struct StringingGoal {
    /// What is still missing, falling as the tensions rise: axle-to-axle above its target, for instance [mm].
    std::function<double(const DeadStrung&)> missing;
    std::string
        cause_if_less;  ///< sentence for the case that less than nothing is missing on the unstrung bow
};

/// What is reached, or why not, in a sentence.
using DeadStringing = std::variant<DeadStrung, std::string>;

/// Raises dead tensions, in the ratio that balances the moments on the cams, until nothing is missing. First
/// step of stringing: see `string_up`.
[[nodiscard]] DeadStringing dead_stringing(const AssembledBow& bow, const StringingGoal& goal);

/// Cables that carry dead tensions, yoke legs left out.
[[nodiscard]] std::vector<CablePart> main_cables(const AssembledBow& bow);

}  // namespace limbwright::models
