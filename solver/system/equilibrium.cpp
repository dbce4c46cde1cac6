#include "solver/system/equilibrium.hpp"

#include <fmt/format.h>

#include <cmath>

namespace limbwright::solver {
namespace {

/// Largest turn and move of a step [rad, mm].
struct Extent {
    double turn = 0, move = 0;
};

Extent extent(const Numbering& n, const VecX& step) {
    Extent e;
    for (int i = 0; i < n.nodes; ++i) {
        e.move = std::max(e.move, step.segment<3>(6 * i).norm());
        e.turn = std::max(e.turn, step.segment<3>(6 * i + 3).norm());
    }
    for (int i = 0; i < n.points; ++i) e.move = std::max(e.move, step.segment<3>(n.first(PointId(i))).norm());
    // A scalar may be an angle or a slide; as a slide the limit is generous.
    for (int i = 0; i < n.scalars; ++i)
        e.turn = std::max(e.turn, 0.05 * std::abs(step[n.first(ScalarId(i))]));
    return e;
}

double scaled(const VecX& gradient, const VecX& diagonal) {
    return gradient.cwiseAbs2().cwiseQuotient(diagonal).sum();
}

/// What a residual or a shift is measured by: the tangent's diagonal, never zero.
VecX scale_of(const BlockMatrix& K) {
    return K.diagonal().cwiseAbs().cwiseMax(1e-12);
}

class Newton {
public:
    Newton(const System& system, const State& start, std::span<const int> held, Workspace& w,
           const NewtonOptions& options)
        : system_(system), held_(held), w_(w), options_(options), state_(start) {}

    FoundEquilibrium run() {
        w_.gradient.resize(0);
        w_.sizes.resize(0);
        energy_ = total_energy(system_, state_);
        if (!std::isfinite(energy_)) return failed("the start has no finite energy");
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
                    energy_ >= energy_before - 1e-12 * (1 + std::abs(energy_before)))
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
            if (decrement <= options_.decrement_tolerance * scale ||
                (decrement <= options_.rounding_floor * scale && decrement >= 0.25 * before))
                return found();
            before = decrement;
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
        const Extent e = extent(system_.numbering(), step);
        return std::min({1., options_.max_turn / e.turn, options_.max_move / e.move});
    }

    bool advance(const VecX& step, double decrement) {
        const double shorten = shortening(step);
        if (w_.factor.negative_pivots() == 0)
            return natural(step * shorten, decrement * shorten) ||
                   downhill(step * shorten, decrement * shorten);
        const VecX diagonal = scale_of(w_.tangent);
        const double merit = scaled(w_.gradient, diagonal);
        for (double t = shorten; t > 0.02 * shorten; t *= 0.5) {
            const State next = moved(state_, VecX(t * step));
            VecX g = total_gradient(system_, next);
            strike(g);
            if (scaled(g, diagonal) < (1 - 0.1 * t) * merit) {
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
        if (energy > energy_ - 1e-4 * decrement) {
            // A decrement beyond the energy itself comes from a nearly singular tangent, which says little
            // after the step.
            if (decrement > 1 + std::abs(energy_)) return false;
            VecX g = total_gradient(system_, next);
            strike(g);
            if (!(std::abs(g.dot(w_.factor.solve(g))) < 0.25 * decrement)) return false;
        }
        state_ = std::move(next);
        energy_ = energy;
        return true;
    }

    /// A step that lowers the energy by a fair share of what the slope promises.
    bool downhill(const VecX& step, double slope) {
        const double noise = 1e-11 * (1 + std::abs(energy_));
        for (double t = 1; t > 1e-6; t *= 0.5) {
            State next = moved(state_, VecX(t * step));
            const double energy = total_energy(system_, next);
            if (energy <= energy_ - 1e-4 * t * slope + noise) {
                state_ = std::move(next);
                energy_ = energy;
                return true;
            }
        }
        return false;
    }

    /// Where the tangent is indefinite and its own step does not help: raise the diagonal until it is not.
    bool raised(const VecX& diagonal) {
        for (double shift = 1e-4; shift < 1e4; shift *= 10) {
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
        const Numbering& n = system_.numbering();
        const auto is_turn = [&](int i) {
            return i < 6 * n.nodes ? i % 6 >= 3 : i >= 6 * n.nodes + 3 * n.points;
        };
        double size[2] = {1e-3, 1e-3};
        for (int i = 0; i < n.used(); ++i) size[is_turn(i)] = std::max(size[is_turn(i)], w_.sizes[i]);
        std::pair<double, int> worst{0, -1};
        for (int i = 0; i < n.used(); ++i)
            worst = std::max(worst, {std::abs(w_.gradient[i]) / size[is_turn(i)], i});
        return worst;
    }

    FoundEquilibrium found() const {
        return Equilibrium{state_, energy_, iterations_, residual().first, w_.factor.negative_pivots()};
    }

    FoundEquilibrium failed(const std::string& why) const {
        const auto [size, where] = w_.sizes.size() ? residual() : std::pair<double, int>{0, -1};
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
