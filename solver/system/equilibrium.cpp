#include "solver/system/equilibrium.hpp"

#include <fmt/format.h>

#include <cmath>

namespace limbwright::solver {
namespace {

/// What a downhill step must lower the energy by, as a share of what the slope promises: little (Armijo;
/// Nocedal & Wright, Numerical Optimization, 2006, 3.1).
constexpr double fair_share = 1e-4;
/// What the decrement must fall to in a step that the energy does not vouch for: half the step's length,
/// squared (Deuflhard, Newton Methods for Nonlinear Problems, 2004, 3.3). Rounding no longer lets it fall so
/// far.
constexpr double fair_decrement = 0.25;
/// What a step on an indefinite tangent must take off the squared residual, as a share of itself; a whole
/// Newton step takes it all.
constexpr double fair_residual = 0.1;
/// Shortest steps that are tried, as a share of the first. On an indefinite tangent a raised diagonal is the
/// better answer, so the search is short.
constexpr double shortest_downhill = 1e-6, shortest_indefinite = 0.02;
/// How far an energy is rounded, as a share of itself and 1 N mm: thousands of elements' sum. A step along a
/// steep slope may come to nothing within it; a raised diagonal that gains less has found nothing.
constexpr double energy_noise = 1e-11, no_gain = 1e-12;
/// By how much a diagonal is raised, as shares of itself: from what changes a step by little to what leaves
/// the steepest descent alone.
constexpr double first_shift = 1e-4, last_shift = 1e4;
/// Least diagonal and least force that anything is measured by [N/mm, N, N mm].
constexpr double least_stiffness = 1e-12, least_force = 1e-3;

/// Largest turn and move of a step [rad, mm].
struct Extent {
    double turn = 0, move = 0;
};

Extent extent(const Plan& plan, const VecX& step) {
    const Numbering& n = plan.numbering;
    Extent e;
    for (int i = 0; i < n.nodes; ++i) {
        e.move = std::max(e.move, step.segment<3>(6 * i).norm());
        e.turn = std::max(e.turn, step.segment<3>(6 * i + 3).norm());
    }
    for (int i = 0; i < n.points; ++i) e.move = std::max(e.move, step.segment<3>(n.first(PointId(i))).norm());
    for (int i = 0; i < n.scalars; ++i) {
        const int freedom = n.first(ScalarId(i));
        double& most = plan.turns[static_cast<std::size_t>(freedom)] ? e.turn : e.move;
        most = std::max(most, std::abs(step[freedom]));
    }
    return e;
}

double scaled(const VecX& gradient, const VecX& diagonal) {
    return gradient.cwiseAbs2().cwiseQuotient(diagonal).sum();
}

/// What a residual or a shift is measured by: the tangent's diagonal, never zero.
VecX scale_of(const BlockMatrix& K) {
    return K.diagonal().cwiseAbs().cwiseMax(least_stiffness);
}

class Newton {
public:
    Newton(const System& system, const State& start, std::span<const int> held, Workspace& w,
           const NewtonOptions& options)
        : system_(system), held_(held), w_(w), options_(options), state_(start) {}

    FoundEquilibrium run() {
        energy_ = total_energy(system_, state_);
        if (!std::isfinite(energy_))
            return NotConverged{state_, 0, freedom_without_energy(), "the start has no finite energy"};
        double before = HUGE_VAL;
        for (iterations_ = 0; iterations_ < options_.max_iterations; ++iterations_) {
            ++w_.iterations;
            assemble(system_, state_, w_.gradient, w_.sizes, w_.tangent);
            strike(w_.gradient);
            if (!w_.factor.factor(w_.tangent, held_)) {
                // Slack cables leave parts without stiffness; a raised diagonal may lead to where they are
                // taut.
                const double energy_before = energy_;
                if (!raised(scale_of(w_.tangent)) ||
                    energy_ >= energy_before - no_gain * (1 + std::abs(energy_before)))
                    return failed(
                        "part of the structure is free to move or not finite: a pivot of the tangent is "
                        "zero");
                before = HUGE_VAL;
                continue;
            }
            const VecX step = w_.factor.solve(-w_.gradient);
            const double decrement = std::abs(w_.gradient.dot(step));
            if (!std::isfinite(decrement)) return failed("the tangent is not finite");
            const double scale = 1 + std::abs(energy_);
            const double error = w_.factor.negative_pivots() == 0
                                     ? decrement
                                     : std::max(decrement, scaled(w_.gradient, scale_of(w_.tangent)));
            if (error <= options_.decrement_tolerance * scale ||
                (error <= options_.rounding_floor * scale && error >= fair_decrement * before))
                return found();
            before = error;
            if (!advance(step, decrement)) return failed("no step lowers the energy or the residual");
        }
        return failed("too many iterations");
    }

private:
    void strike(VecX& g) const {
        for (const int f : held_) g[f] = 0;
    }

    /// Share of a step that keeps within the longest turn and move.
    double shortening(const VecX& step) const {
        const Extent e = extent(system_.plan(), step);
        return std::min({1., options_.max_turn / e.turn, options_.max_move / e.move});
    }

    bool advance(const VecX& step, double decrement) {
        const double shorten = shortening(step);
        if (w_.factor.negative_pivots() == 0)
            return natural(step * shorten, decrement * shorten) ||
                   downhill(step * shorten, decrement * shorten);
        const VecX diagonal = scale_of(w_.tangent);
        const double merit = scaled(w_.gradient, diagonal);
        for (double t = shorten; t > shortest_indefinite * shorten; t *= 0.5) {
            const State next = moved(state_, VecX(t * step));
            VecX g = total_gradient(system_, next);
            strike(g);
            if (scaled(g, diagonal) < (1 - fair_residual * t) * merit) {
                state_ = next;
                energy_ = total_energy(system_, state_);
                return true;
            }
        }
        return raised(diagonal);
    }

    /// The whole step, if it lowers the energy, or the decrement that the same tangent gives after it (the
    /// natural monotonicity test, Deuflhard, Newton Methods for Nonlinear Problems, 2004): on slender beams a
    /// turn stretches the axis to second order, which costs much energy that the next step takes back.
    bool natural(const VecX& step, double decrement) {
        State next = moved(state_, step);
        const double energy = total_energy(system_, next);
        if (!std::isfinite(energy)) return false;
        if (energy > energy_ - fair_share * decrement) {
            // A decrement beyond the energy itself comes from a nearly singular tangent, which says little
            // after the step.
            if (decrement > 1 + std::abs(energy_)) return false;
            VecX g = total_gradient(system_, next);
            strike(g);
            if (!(std::abs(g.dot(w_.factor.solve(g))) < fair_decrement * decrement)) return false;
        }
        state_ = std::move(next);
        energy_ = energy;
        return true;
    }

    /// A step that lowers the energy by a fair share of what the slope promises.
    bool downhill(const VecX& step, double slope) {
        const double noise = energy_noise * (1 + std::abs(energy_));
        for (double t = 1; t > shortest_downhill; t *= 0.5) {
            State next = moved(state_, VecX(t * step));
            const double energy = total_energy(system_, next);
            if (energy <= energy_ - fair_share * t * slope + noise) {
                state_ = std::move(next);
                energy_ = energy;
                return true;
            }
        }
        return false;
    }

    /// Where the tangent is indefinite and its own step does not help: raise the diagonal until it is not.
    bool raised(const VecX& diagonal) {
        for (double shift = first_shift; shift < last_shift; shift *= 10) {
            BlockMatrix K = w_.tangent;
            K.raise(shift * diagonal);
            if (!w_.factor.factor(K, held_) || w_.factor.negative_pivots() > 0) continue;
            const VecX step = w_.factor.solve(-w_.gradient);
            const double shorten = shortening(step);
            if (downhill(step * shorten, -w_.gradient.dot(step) * shorten)) return true;
        }
        return false;
    }

    /// Largest residual against the largest contribution of its kind, and where.
    std::pair<double, int> residual() const {
        double largest_force = least_force, largest_moment = least_force;
        const auto largest = [&](int i) -> double& {
            return system_.plan().turns[static_cast<std::size_t>(i)] ? largest_moment : largest_force;
        };
        const int n = system_.numbering().used();
        for (int i = 0; i < n; ++i) largest(i) = std::max(largest(i), w_.sizes[i]);
        std::pair<double, int> worst{0, -1};
        for (int i = 0; i < n; ++i) worst = std::max(worst, {std::abs(w_.gradient[i]) / largest(i), i});
        return worst;
    }

    /// A freedom that the first element without a finite energy touches.
    int freedom_without_energy() const {
        for (std::size_t e = 0; e < system_.elements().size(); ++e) {
            const std::vector<int>& places = system_.plan().gather[e];
            if (!places.empty() && !std::isfinite(system_.elements()[e]->energy(state_)))
                return places.front();
        }
        return -1;
    }

    FoundEquilibrium found() const {
        return Equilibrium{
            state_, energy_, iterations_, residual().first, w_.factor.negative_pivots(), w_.factor.growth()};
    }

    FoundEquilibrium failed(const std::string& why) const {
        const auto [size, where] = residual();
        return NotConverged{state_, iterations_, where,
                            fmt::format("{} after {} iterations, residual {:.1e} of the largest force", why,
                                        iterations_, size)};
    }

    const System& system_;
    std::span<const int> held_;
    Workspace& w_;
    const NewtonOptions& options_;
    State state_;
    double energy_ = 0;
    int iterations_ = 0;
};

}  // namespace

FoundEquilibrium find_equilibrium(const System& system, const State& start, std::span<const int> held,
                                  Workspace& workspace, const NewtonOptions& options) {
    return Newton(system, start, held, workspace, options).run();
}

}  // namespace limbwright::solver
