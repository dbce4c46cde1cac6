#pragma once

#include <string>
#include <variant>

#include "solver/system/assembly.hpp"

namespace limbwright::solver {

struct NewtonOptions {
    double decrement_tolerance = 1e-20;  ///< stop when −g·step < this × (1 N mm + |energy|): an error in
                                         ///< energy, one norm for newtons and newton-millimetres alike. It is
                                         ///< none where the tangent is indefinite: there Σ g²/|K_ii|
                                         ///< must be as small too
    double rounding_floor = 1e-13;       ///< or below this × the same, once it no longer falls
    int max_iterations = 60;
    double max_turn = 0.5;  ///< largest turn of one step, of a node or a scalar; longer steps are shortened
                            ///< as a whole [rad]
    double max_move = 60;   ///< largest displacement of one step, of a node, a point or a scalar [mm]
};

/// Memory for Newton's method on systems of one plan, made once. After a state is found it holds that state's
/// tangent and its factor.
struct Workspace {
    explicit Workspace(const System& system)
        : tangent(system.shared_plan()),
          factor(system.shared_plan()),
          gradient(VecX::Zero(system.numbering().size())),
          sizes(gradient) {}
    BlockMatrix tangent;
    BlockFactor factor;
    VecX gradient, sizes;
    long iterations = 0;  ///< Newton iterations ever done here
};

/// A state in which the energy is stationary for all freedoms that are not held.
struct Equilibrium {
    State state;
    double energy = 0;  ///< [N mm]
    int iterations = 0;
    double residual = 0;      ///< largest |gradient| at a free freedom over the largest contribution to any
                              ///< freedom of its kind (force or moment) [1]
    int negative_pivots = 0;  ///< more than zero: not stable
    double growth = 1;        ///< of rounding in its tangent's factor, `BlockFactor::growth`

    /// Whether the tangent is singular to rounding: slopes, and which way the state gives, are not to be
    /// trusted.
    [[nodiscard]] bool is_doubtful() const { return growth > hopeless_growth; }
};

/// Why no equilibrium was found, and how far it came.
struct NotConverged {
    State best;
    int iterations = 0;
    int worst_freedom = -1;  ///< with the largest residual, or of an element without energy
    std::string reason;      ///< one sentence with figures
};
using FoundEquilibrium = std::variant<Equilibrium, NotConverged>;

/// Newton's method with the exact tangent. While the tangent is positive definite a whole step must lower the
/// energy, or the decrement by the same tangent, else it is shortened until the energy falls (Armijo); where
/// it is not, a step must lower the residual scaled by the tangent's diagonal, Σ g²/|K_ii| [N mm], or the
/// diagonal is raised until the step goes downhill.
///
/// @param held  freedoms that keep their value in `start`
[[nodiscard]] FoundEquilibrium find_equilibrium(const System& system, const State& start,
                                                std::span<const int> held, Workspace& workspace,
                                                const NewtonOptions& options = {});

}  // namespace limbwright::solver
