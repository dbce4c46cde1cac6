#pragma once

#include <optional>

#include "solver/system/equilibrium.hpp"

namespace limbwright::solver {

/// One state on a path along a moving, held freedom.
struct PathState {
    Equilibrium equilibrium;
    double parameter = 0;           ///< value of the moving scalar
    double force = 0;               ///< ∂energy/∂parameter: what the hold supplies [N or N mm]
    double stiffness = 0;           ///< d force / d parameter along the path, from the factor
    int attempts = 1;               ///< steps tried since the state before, failed ones included
    std::vector<VecX> responses{};  ///< change of the state per unit of each of `PathOptions::loads`
};

/// Why a path ended early: the last parameter and state on it, and Newton's own answer; or, where the path
/// itself ends, the sentence that says so, with the freedom that runs away fastest there.
struct PathFailure {
    double reached = 0, tried = 0;
    State state;
    NotConverged cause;
};

struct Path {
    std::vector<PathState> states;
    std::optional<PathFailure> failure;
};

struct PathOptions {
    NewtonOptions newton;
    std::vector<VecX>
        loads{};  ///< whose responses K⁻¹ load are wanted in every state, the held held [N, N mm]
    double smallest_step =
        1e-4;  ///< share of the way left to the next wanted value below which the path gives up
    /// Steps between the wanted values, failed ones included, that a whole path may take: it never tries more
    /// than this and one for each wanted value.
    int most_steps_between = 400;
};

/// States at the wanted values of a held scalar on the path that leads there continuously, from a start near
/// the first of them. Each is predicted by the slopes dq/ds = −K⁻¹ ∂g/∂s of the last states (second-order
/// Adams–Bashforth), corrected by Newton; a step that fails is halved. A falling force is no obstacle: the
/// scalar, not the force, is prescribed.
///
/// A state is taken only if it continues the path: the step to it, q, and the trapezoid of the slopes at its
/// two ends, h (q₀′ + q₁′)/2, differ by less than half of q. On one path they differ by h³ q‴/12; where
/// another branch of equilibria was met, by the distance between branches, however short the step. Moves,
/// turns and each scalar are looked at by themselves; a difference below a twenty-fifth of Newton's longest
/// step is let pass, or no step would be short enough for a kink, such as a stop. Where the number of
/// negative pivots changes, as it does from a stable branch to an unstable one, both are ten times stricter.
///
/// @param held  all held freedoms, the moving one among them
[[nodiscard]] Path trace(const System& system, const State& start, ScalarId moving,
                         std::span<const double> wanted, std::span<const int> held, Workspace& workspace,
                         const PathOptions& options = {});

}  // namespace limbwright::solver
