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

/// Freedoms of one unit that are looked at together: where the first triple stands, how far apart they
/// follow, how many, of how many numbers each.
struct Kind {
    int first, stride, count, width;

    [[nodiscard]] double largest(const VecX& step) const {
        double most = 0;
        for (int i = 0; i < count; ++i) most = std::max(most, step.segment(first + i * stride, width).norm());
        return most;
    }
};

class Tracer {
public:
    Tracer(const System& system, ScalarId moving, std::span<const int> held, Workspace& w,
           const PathOptions& options)
        : system_(system),
          moving_(moving),
          freedom_(system.numbering().first(moving)),
          held_(held),
          w_(w),
          options_(options),
          steps_left_(options.most_steps_between) {}

    Path run(const State& start, std::span<const double> wanted) {
        here_ = start;
        Path path;
        for (const double target : wanted)
            if (!reach(target, path)) break;
        return path;
    }

private:
    bool reach(double target, Path& path) {
        double step = target - here_.at(moving_);
        for (int attempts = 1;; ++attempts) {
            const double left = target - here_.at(moving_);
            if (std::abs(step) > std::abs(left)) step = left;
            const bool arrives = step == left;
            State guess = predicted(step);
            if (arrives) guess.at(moving_) = target;
            FoundEquilibrium answer = find_equilibrium(system_, guess, held_, w_, options_.newton);
            auto* found = std::get_if<Equilibrium>(&answer);
            const bool taken = found && advance(*found, step);
            if (taken && arrives) {
                add(std::move(*found), target, attempts, path);
                return true;
            }
            const bool too_short = std::abs(step) <= std::max(options_.smallest_step * std::abs(left), 1e-9);
            if ((!taken && too_short) || steps_left_-- <= 0) {
                path.failure = failure(step, answer);
                return false;
            }
            step *= taken ? 2 : 0.5;
        }
    }

    [[nodiscard]] State predicted(double step) const {
        State guess = here_;
        if (slope_here_.size() && step != 0) {
            VecX q = step * slope_here_;
            if (slope_before_.size()) q += (0.5 * step * step / step_before_) * (slope_here_ - slope_before_);
            q[freedom_] = step;
            guess = moved(here_, q);
        } else {
            guess.at(moving_) += step;
        }
        return guess;
    }

    /// Goes on to a state, if it continues the path.
    bool advance(const Equilibrium& found, double step) {
        VecX slope_there = slope(w_, freedom_, held_);
        if (slope_here_.size() && !continues(found, step, slope_there)) return false;
        if (step != 0) {
            slope_before_ = std::move(slope_here_);
            step_before_ = step;
        }
        here_ = found.state;
        negative_pivots_ = found.negative_pivots;
        slope_here_ = std::move(slope_there);
        return true;
    }

    [[nodiscard]] bool continues(const Equilibrium& there, double step, const VecX& slope_there) const {
        const double strictness = there.negative_pivots == negative_pivots_ ? 1 : 0.1;
        const double share = 0.5 * strictness, passed_over = 0.04 * strictness;
        const Numbering& n = system_.numbering();
        const VecX q = step_between(here_, there.state, n);
        const VecX missed = q - 0.5 * step * (slope_here_ + slope_there);
        const auto good = [&](const Kind& kind, double longest) {
            return kind.largest(missed) <= std::max(share * kind.largest(q), passed_over * longest);
        };
        bool all = good({0, 6, n.nodes, 3}, options_.newton.max_move) &&
                   good({3, 6, n.nodes, 3}, options_.newton.max_turn) &&
                   good({6 * n.nodes, 3, n.points, 3}, options_.newton.max_move);
        for (int i = 0; i < n.scalars; ++i)
            all = all && good({n.first(ScalarId(i)), 1, 1, 1}, options_.newton.max_turn);
        return all;
    }

    void add(Equilibrium found, double target, int attempts, Path& path) {
        const VecX change = w_.tangent.times(slope_here_);
        const double force = total_gradient(system_, here_)[freedom_];
        path.states.push_back({std::move(found), target, force, change[freedom_], attempts});
        for (const VecX& load : options_.loads) path.states.back().responses.push_back(w_.factor.solve(load));
    }

    [[nodiscard]] PathFailure failure(double step, FoundEquilibrium& answer) const {
        PathFailure f{here_.at(moving_), here_.at(moving_) + step, here_, {}};
        if (turns_back(step))
            f.cause = {here_, 0, fastest(), "the path of states in balance turns back here"};
        else if (auto* lost = std::get_if<NotConverged>(&answer))
            f.cause = std::move(*lost);
        else
            f.cause = {here_, 0, fastest(),
                       steps_left_ < 0 ? "too many steps are needed"
                                       : "the next state found does not continue the path"};
        return f;
    }

    /// Near a fold s* slopes grow like 1/√(s* − s), so that 1/|q′|² falls to zero along a line: is the zero
    /// as near as the step that failed?
    [[nodiscard]] bool turns_back(double step) const {
        if (!slope_before_.size()) return false;
        const double before = 1 / slope_before_.squaredNorm(), now = 1 / slope_here_.squaredNorm();
        return now < before && std::abs(step_before_) * now / (before - now) < 10 * std::abs(step);
    }

    /// The freedom whose slope has grown most, against Newton's longest step.
    [[nodiscard]] int fastest() const {
        if (!slope_here_.size()) return -1;
        const Numbering& n = system_.numbering();
        VecX growth = slope_before_.size() ? VecX(slope_here_ - slope_before_) : slope_here_;
        for (int i = 0; i < n.first(ScalarId(0)); ++i)
            if (i >= 6 * n.nodes || i % 6 < 3)
                growth[i] *= options_.newton.max_turn / options_.newton.max_move;
        int where = 0;
        growth.cwiseAbs().maxCoeff(&where);
        return where;
    }

    const System& system_;
    ScalarId moving_;
    int freedom_;
    std::span<const int> held_;
    Workspace& w_;
    const PathOptions& options_;
    int steps_left_, negative_pivots_ = 0;
    State here_;
    VecX slope_here_, slope_before_;
    double step_before_ = 0;
};

}  // namespace

Path trace(const System& system, const State& start, ScalarId moving, std::span<const double> wanted,
           std::span<const int> held, Workspace& workspace, const PathOptions& options) {
    return Tracer(system, moving, held, workspace, options).run(start, wanted);
}

}  // namespace limbwright::solver
