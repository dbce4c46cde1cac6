#pragma once

#include <algorithm>
#include <type_traits>

#include "solver/system/block_matrix.hpp"
#include "solver/system/system.hpp"

namespace limbwright::solver {

/// A state in which nothing is out of balance, with the factor of its tangent: how it answers, to first
/// order.
///
/// The gradient g(q, s) of the energy by the free freedoms q vanishes before and after a change of some
/// number s of the system, hence
///
///     dq/ds = −K⁻¹ ∂g/∂s,    K = ∂g/∂q with its held freedoms struck out.
///
/// K is symmetric: of many numbers' effect on one function f(q), λ = K⁻¹ ∂f/∂q gives df/ds = −λ·∂g/∂s by the
/// same solution.
class FactoredState {
public:
    /// @param held  freedoms that keep their value
    /// @throws std::runtime_error if the tangent has no inverse
    FactoredState(const System& system, const State& state, std::span<const int> held);

    [[nodiscard]] const State& state() const { return state_; }
    [[nodiscard]] const BlockFactor& factor() const { return factor_; }
    /// Of the energy, by all increments: what the holds supply at held freedoms [N, N mm].
    [[nodiscard]] const VecX& gradient() const { return gradient_; }

    /// dq of a load that joins the system's own, K⁻¹ load [mm, rad per unit of the load].
    [[nodiscard]] VecX answer(const VecX& load) const { return factor_.solve(load); }

    /// dq/ds, ∂g/∂s as the central difference of the gradients of two systems in this state, so that no state
    /// is solved anew.
    ///
    /// @param more, less  the system at s + h and at s − h, with the same freedoms
    [[nodiscard]] VecX slope(const System& more, const System& less, double h) const;

    /// The state a first-order step away: moved by `change` times a slope.
    [[nodiscard]] State along(const VecX& slope, double change) const;

private:
    State state_;
    VecX gradient_;
    BlockFactor factor_;
};

/// What is read off a state changes by so much per unit of a direction. A central difference over moves of at
/// most 1e-3 mm or rad: its own error is of second order, below 1e-6, that of rounding below 1e-9.
///
/// @param read  from a state to a number or a vector
template <class Read>
[[nodiscard]] auto derivative_along(const VecX& direction, const State& state, const Read& read) {
    using Value = std::decay_t<decltype(read(state))>;
    const double h = 1e-3 / std::max(direction.lpNorm<Eigen::Infinity>(), 1e-9);
    const Value more = read(moved(state, VecX(h * direction))),
                less = read(moved(state, VecX(-h * direction)));
    return Value((more - less) / (2 * h));
}

}  // namespace limbwright::solver
