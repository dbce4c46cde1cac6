#pragma once

#include "models/states/stringing.hpp"
#include "solver/system/continuation.hpp"

namespace limbwright::models {

/// One state of the draw.
struct DrawState {
    double draw = 0;  ///< nocking point to pivot point [mm]
    solver::State state;
    double force = 0;             ///< draw force: what holds the nocking point back along X [N]
    double stiffness = 0;         ///< change of the draw force with the draw, coming from brace [N/mm]
    double stiffness_beyond = 0;  ///< the same going on; another value only where a draw stop meets
    double energy = 0;            ///< total, brace included [N mm]
    double residual = 0;          ///< relative, see `solver::Equilibrium`
    int iterations = 0;
    int negative_pivots = 0;           ///< more than zero: the state is not stable
    int attempts = 1;                  ///< steps tried to reach it
    solver::VecX yaw_torque_effect{};  ///< change of the state per newton-millimetre of hand yaw torque, the
                                       ///< nocking point held
};

/// What happened, state by state, from brace on.
struct Draw {
    std::vector<DrawState> states;
    std::optional<std::string> failure;  ///< why it ended early: draw, part, cause and what to try
    std::vector<std::string> warnings;   ///< slack cables, unstable states

    /// The first of the states with the largest draw force; there must be a state.
    [[nodiscard]] std::size_t peak_index() const;
    [[nodiscard]] const DrawState& peak() const { return states[peak_index()]; }
};

/// What holds the nocking point back along X: of the string alone, without assembling the bow [N].
[[nodiscard]] double draw_force(const AssembledBow& bow, const solver::State& state);

/// One newton-millimetre of hand yaw torque, in the system's order.
[[nodiscard]] solver::VecX yaw_torque(const AssembledBow& bow);

/// A state as one of a draw, with its draw and its force; energy and the effect of a torque are left to those
/// who need them.
[[nodiscard]] DrawState draw_state(const AssembledBow& bow, solver::State state);

/// A state of a path along which the nocking point was drawn and `yaw_torque` was the first load.
[[nodiscard]] DrawState draw_state(const solver::PathState& state);

struct DrawOptions {
    std::optional<double> full_draw;  ///< nocking point to pivot [mm]; none: as the bow says
    std::optional<int> states;        ///< brace included; none: as the bow says
    solver::PathOptions path;
};

/// Full draw that the bow asks for [mm]: its draw length less 1.75 in (AMO/ATA standard, from memory). None:
/// to the draw stops.
[[nodiscard]] std::optional<double> full_draw(const Bow& bow);

/// Draws a strung bow in equal steps from brace; where a draw stop meets on the way there is one more state.
/// To the stops means to where the later of them meets.
[[nodiscard]] Draw draw(const StrungBow& strung, const DrawOptions& options = {});

/// Lets a drawn bow down to brace again, through the same draws backward: first state full draw, last brace.
[[nodiscard]] Draw let_down(const StrungBow& strung, const Draw& drawn, const DrawOptions& options = {});

/// Work of the draw force from brace to each state [N mm]: trapezoids corrected by the force's slopes at both
/// ends,
///     W += h (F₁ + F₂)/2 − h² (F₂′ − F₁′)/12   (Euler–Maclaurin; the error falls with h⁴),
///
/// on each side of a stop's meeting with the slope of that side.
[[nodiscard]] std::vector<double> work(const Draw& draw);

}  // namespace limbwright::models
