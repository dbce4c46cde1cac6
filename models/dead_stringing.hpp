#pragma once

#include "models/assembled_bow.hpp"
#include "solver/equilibrium.hpp"

namespace limbwright::models {

/// A bow held up by dead tensions: cams at their marks, riser upright and held.
struct DeadStrung {
    solver::State state;
    double string_tension = 0;           ///< of both halves [N]
    std::vector<double> cable_tensions;  ///< without yoke legs
};

/// What is reached, or why not, in a sentence.
using DeadStringing = std::variant<DeadStrung, std::string>;

/// Raises dead tensions, in the ratio that balances the moments on the cams, until `missing` turns from positive to
/// negative. First step of stringing: see `string_up`.
///
/// @param missing  what is still missing, falling as the tensions rise: axle-to-axle above its target, for instance;
///                 gets the state and the tensions so far
[[nodiscard]] DeadStringing dead_stringing(const AssembledBow& bow,
                                           const std::function<double(const DeadStrung&)>& missing);

/// Cables that carry dead tensions, yoke legs left out.
[[nodiscard]] std::vector<CablePart> main_cables(const AssembledBow& bow);

}  // namespace limbwright::models
