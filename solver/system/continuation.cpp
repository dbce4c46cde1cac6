#include "solver/system/continuation.hpp"

#include <cmath>

namespace limbwright::solver {
namespace {

/// The tangent of the path at the state the workspace has just found; its own freedom moves by one.
VecX slope(const Workspace& w, int freedom, std::span<const int> held) {
    VecX column = w.tangent.times(VecX::Unit(w.gradient.size(), freedom));
    VecX q = w.factor.solve(-column);
    for (const int f : held) q[f] = 0;
    q[freedom] = 1;
    return q;
}

}  // namespace

Path trace(const System& system, const State& start, ScalarId moving, std::span<const double> wanted,
           std::span<const int> held, Workspace& w, const PathOptions& options) {
    const int freedom = system.numbering().first(moving);
    Path path;
    State here = start;
    VecX slope_here, slope_before;
    double step_before = 0;
    for (const double target : wanted) {
        double step = target - here.at(moving);
        int attempts = 0;
        for (;;) {
            const double left = target - here.at(moving);
            if (std::abs(step) > std::abs(left)) step = left;
            State guess = here;
            if (slope_here.size() && step != 0) {
                VecX q = step * slope_here;
                if (slope_before.size()) q += (0.5 * step * step / step_before) * (slope_here - slope_before);
                q[freedom] = step;
                guess = moved(here, q);
            } else {
                guess.at(moving) += step;
            }
            const bool arrives = step == left;
            if (arrives) guess.at(moving) = target;
            ++attempts;
            FoundEquilibrium answer = find_equilibrium(system, guess, held, w, options.newton);
            if (auto* found = std::get_if<Equilibrium>(&answer)) {
                if (step != 0) {
                    slope_before = slope_here;
                    step_before = step;
                }
                here = found->state;
                slope_here = slope(w, freedom, held);
                if (!arrives) {
                    step *= 2;
                    continue;
                }
                const VecX change = w.tangent.times(slope_here);
                const double force = total_gradient(system, here)[freedom];
                path.states.push_back({std::move(*found), target, force, change[freedom], attempts});
                for (const VecX& load : options.loads)
                    path.states.back().responses.push_back(w.factor.solve(load));
                break;
            }
            if (std::abs(step) <= options.smallest_step * std::abs(target - here.at(moving)) ||
                std::abs(step) < 1e-9) {
                path.failure = PathFailure{here.at(moving), here.at(moving) + step,
                                           std::get<NotConverged>(std::move(answer))};
                return path;
            }
            step *= 0.5;
        }
    }
    return path;
}

}  // namespace limbwright::solver
