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

/// Why a path ended early: after which parameter, and Newton's own answer.
struct PathFailure {
    double reached = 0, tried = 0;
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
};

/// States at the wanted values of a held scalar, from a start near the first of them. Each is predicted by
/// the slopes dq/ds = −K⁻¹ ∂g/∂s of the last states (second-order Adams–Bashforth), corrected by Newton; a
/// step that fails is halved. A falling force is no obstacle: the scalar, not the force, is prescribed.
///
/// @param held  all held freedoms, the moving one among them
[[nodiscard]] Path trace(const System& system, const State& start, ScalarId moving,
                         std::span<const double> wanted, std::span<const int> held, Workspace& workspace,
                         const PathOptions& options = {});

}  // namespace limbwright::solver
