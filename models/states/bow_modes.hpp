#pragma once

#include <span>
#include <variant>

#include "models/states/bow_masses.hpp"
#include "solver/system/modes.hpp"

namespace limbwright::models {

/// One free motion of the bow about a state.
struct BowMode {
    solver::Mode motion;
    std::vector<double> shares;  ///< of the kinetic energy in each part, together 1
    double sideways = 0;         ///< share of the kinetic energy in motions along Y and turns about X and Z;
                                 ///< the rest is in the bow's plane

    /// The part with the largest share.
    [[nodiscard]] std::size_t leading_part() const;
};

struct BowModes {
    std::vector<std::string> parts;    ///< see `BowMasses`
    std::vector<double> masses;        ///< of the parts [t]
    std::vector<std::string> assumed;  ///< densities and masses that the bow file does not give
    std::vector<BowMode> lowest;       ///< by rising eigenvalue
    int unstable = 0;                  ///< directions in which the bow runs away from the state
};

/// Natural frequencies and stability of a strung bow, undamped: the grip's pivot stays in place and roll is
/// held, as in the draw; hand, arm and arrow have no mass.
///
/// @param state  an equilibrium, of brace or of the draw
/// @param held   `held_at_brace`, or `held_while_drawing` for a drawn bow: the nocking point stays
/// @return or, in a sentence, why not
[[nodiscard]] std::variant<BowModes, std::string> bow_modes(const AssembledBow& bow,
                                                            const solver::State& state,
                                                            std::span<const int> held, int count);

}  // namespace limbwright::models
