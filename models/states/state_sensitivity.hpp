#pragma once

#include <array>
#include <functional>

#include "models/states/stringing.hpp"
#include "solver/system/sensitivity.hpp"

namespace limbwright::models {

/// Share of a practical step, or of a standard deviation, by which a number of the bow is moved either way
/// for a derivative. Truncation is 1e-4 of the whole step's own third-order effect; what rounding leaves of
/// the stiffest part's forces, 1e-8 N, stays below 1e-6 N over the whole step.
inline constexpr double derivative_share = 0.01;

/// A strung bow with its state at brace and states at which the nocking point is held.
struct BowStates {
    StrungBow strung;
    std::vector<solver::State> states;    ///< brace first
    std::vector<solver::System> systems;  ///< the bow as it acts in each, see `StateSensitivity`
};

/// How states answer one number s of the bow.
struct StateSlopes {
    std::vector<solver::VecX> states;  ///< dq/ds of each, brace first
    solver::VecX lengths;              ///< of natural lengths, twists counted, in the order of `cut_parts`
    BowStates more, less;              ///< at s ± h, to first order: `q ± h dq/ds` in the bows so rebuilt
};

/// Whether a draw stop presses in a state. One that just touches does not: the end of a draw to the stops.
[[nodiscard]] bool stop_presses(const AssembledBow& bow, const AxleParts& axle, const solver::State& state);

/// A bow rebuilt from a strung one, with such lengths of string and cables. Its state is still the old one's.
[[nodiscard]] StrungBow rebuilt_from(const StrungBow& strung, AssembledBow bow,
                                     const NaturalLengths& lengths);

/// Derivatives of a strung bow's states by whatever can be rebuilt.
///
/// Each state moves by dq/ds = −K⁻¹ ∂g/∂s (`solver::FactoredState`), ∂g/∂s between bows rebuilt at s ± h.
/// Lengths that are re-timed move along, dL/ds = −(∂u/∂L)⁻¹ ∂u/∂s (`BraceByLengths`), so that what is met at
/// brace stays met. Draw stops meet at their turn from the moved brace.
///
/// A stop's kink has no derivative. One that presses in a state goes on pressing, like a spring that acts
/// both ways; one that does not stays away, also where it is about to meet. So the slope is exact wherever no
/// stop is just meeting, and there, at the end of a draw to the stops, it is that of the draw up to the stop.
/// Differences across the kink are neither side's slope, and a bow without its stops loses the force of one
/// that has met on the way.
class StateSensitivity {
public:
    /// @param drawn  states of this bow in which the nocking point is held
    /// @throws std::runtime_error if the tangent of one of the states has no inverse
    StateSensitivity(const StrungBow& today, const std::vector<solver::State>& drawn, LengthRule rule);

    [[nodiscard]] const BowStates& today() const { return today_; }
    /// With its factor; brace first.
    [[nodiscard]] const solver::FactoredState& factored(std::size_t state) const { return factored_[state]; }
    /// Of re-timed lengths.
    [[nodiscard]] const BraceByLengths& by_lengths() const { return by_lengths_; }

    /// @param rebuilt  the bow at s + change, see `rebuilt_from`
    [[nodiscard]] StateSlopes by(const std::function<StrungBow(double change)>& rebuilt, double h) const;

private:
    [[nodiscard]] solver::System acting(const AssembledBow& bow, std::size_t state) const;
    [[nodiscard]] solver::VecX brace_slope(StrungBow& more, StrungBow& less, double h) const;

    LengthRule rule_;
    BowStates today_;
    std::vector<std::array<bool, 2>> stop_presses_;  ///< in each state: top, bottom
    std::vector<solver::FactoredState> factored_;
    BraceByLengths by_lengths_;
};

}  // namespace limbwright::models
