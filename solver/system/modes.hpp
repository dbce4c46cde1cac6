#pragma once

#include <span>
#include <string>
#include <variant>

#include "solver/system/masses.hpp"
#include "solver/system/system.hpp"

namespace limbwright::solver {

/// A small free motion about a state: K x = λ M x with the tangent K and the mass matrix M.
struct Mode {
    double eigenvalue = 0;  ///< λ = ω² [1/s²]; negative: the state runs away along the shape, as exp(√−λ t)
    VecX shape;             ///< in the system's order, xᵀ M x = 1, largest entry positive; held: zero

    /// ω/2π [Hz]; NaN where the motion runs away.
    [[nodiscard]] double frequency() const;
    /// √−λ of a motion that runs away [1/s]; zero of one that swings.
    [[nodiscard]] double growth_rate() const;
};

struct Modes {
    std::vector<Mode> lowest;  ///< by rising eigenvalue
    int unstable = 0;          ///< number of all eigenvalues below zero by more than rounding; counted in the
                               ///< tangent's factor (Sylvester's law of inertia), not in the list
};

/// Why there are none, in a sentence; the freedom that has no mass, if that is why.
struct NoModes {
    std::string reason;
    int freedom = -1;
};

/// The lowest modes of a state by Lanczos' method on (K − σM)⁻¹ M, σ below all eigenvalues (Spectra; for the
/// method: Ericsson & Ruhe, Math. Comp. 35 (1980)). The sign count of K − σM just under the last of them
/// proves that none below it was missed.
///
/// @param state   an equilibrium for all freedoms but the held ones
/// @param bodies  must give every freedom that is not held some mass
/// @param held    freedoms that do not move
/// @param count   how many, at least one; never more than there are free freedoms less one
[[nodiscard]] std::variant<Modes, NoModes> find_modes(const System& system, const State& state,
                                                      std::span<const Body> bodies, std::span<const int> held,
                                                      int count);

}  // namespace limbwright::solver
