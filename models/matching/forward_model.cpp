#include "models/matching/forward_model.hpp"

#include <fmt/format.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::State;
using solver::System;
using solver::VecX;

constexpr double stride = 15;    // mm between the three draws about the peak
constexpr std::size_t full = 3;  // place of full draw among the draws
constexpr int draw_states = 15;  // of the draw that finds the peak

/// Warm states are near or not worth having: a fit then takes a shorter step.
constexpr solver::NewtonOptions few_iterations{.max_iterations = 15};

/// Corrects the lengths until brace is as measured; false if it does not come to an end.
bool settle_brace(const AssembledBow& bow, VecX& lengths, State& brace, solver::Workspace& workspace) {
    const bool given = bow.bow.cables.string_above.has_value();
    const std::vector<int> held = held_at_brace(bow);
    for (int round = 0; round < 8; ++round) {
        const System system = with_lengths(bow, lengths);
        solver::FoundEquilibrium found = find_equilibrium(system, brace, held, workspace, few_iterations);
        if (std::holds_alternative<solver::NotConverged>(found)) return false;
        brace = std::get<solver::Equilibrium>(found).state;
        if (given) return true;
        const VecX open = unmet_at_brace(bow, brace);
        if (open.lpNorm<Eigen::Infinity>() < 1e-8) return true;
        const MatX loads = loads_of_lengths(bow, system, brace);
        MatX slopes(open.size(), lengths.size());
        constexpr double h = 1e-4;  // mm
        for (int i = 0; i < lengths.size(); ++i) {
            const VecX q = workspace.factor.solve(loads.col(i));
            slopes.col(i) = (unmet_at_brace(bow, moved(brace, VecX(h * q))) -
                             unmet_at_brace(bow, moved(brace, VecX(-h * q)))) /
                            (2 * h);
        }
        VecX change = -Eigen::FullPivLU<MatX>(slopes).solve(open);
        const double largest = change.lpNorm<Eigen::Infinity>();
        if (!(largest < 1e3)) return false;
        if (largest > 10) change *= 10 / largest;
        lengths += change;
    }
    return false;
}

StrungBow strung_or_throw(const Bow& bow) {
    Stringing stringing = string_up(assemble(bow));
    if (const auto* lost = std::get_if<NotStrung>(&stringing))
        throw std::runtime_error(fmt::format("the bow could not be strung: {}", lost->reason));
    return std::get<StrungBow>(std::move(stringing));
}

/// Place of the top of the parabola through three equally spaced forces, in strides from the middle; held
/// within the three. Where the forces have no top between, the end with the larger one.
double top_of(double before, double middle, double after) {
    const double bend = before - 2 * middle + after;
    if (!(bend < 0)) return before > after ? -1 : 1;
    return std::clamp(0.5 * (before - after) / bend, -1.0, 1.0);
}

double parabola(double before, double middle, double after, double u) {
    return middle + 0.5 * u * (after - before) + 0.5 * u * u * (before - 2 * middle + after);
}

}  // namespace

BenchModel::BenchModel(const Bow& bow, std::vector<MatchParameter> parameters,
                       std::vector<BenchQuery> queries)
    : bow_(bow),
      parameters_(std::move(parameters)),
      queries_(std::move(queries)),
      start_{strung_or_throw(bow), {}, {}} {
    DrawOptions options;
    options.states = draw_states;
    const Draw drawn = draw(start_.strung, options);
    if (drawn.failure) throw std::runtime_error(*drawn.failure);
    const double brace = drawn.states.front().draw, end = drawn.states.back().draw;
    const double middle = std::clamp(drawn.peak().draw, brace + 2 * stride, end - stride);
    start_.draws = {middle - stride, middle, middle + stride, end};
    for (const BenchQuery& query : queries_) {
        places_.push_back(start_.draws.size());
        if (!query.draw) continue;
        if (*query.draw <= brace)
            throw std::runtime_error(
                fmt::format("a draw weight is told at a draw length of {:.1f} mm, but at brace the bow has "
                            "{:.1f} mm already",
                            *query.draw + draw_length_beyond_pivot, brace + draw_length_beyond_pivot));
        start_.draws.push_back(*query.draw);
    }
    settle_stops(start_.strung);
    solver::Workspace workspace(start_.strung.bow.system);
    const std::vector<int> held = held_while_drawing(start_.strung.bow);
    for (const double wanted : start_.draws) {
        const DrawState& from = *std::min_element(
            drawn.states.begin(), drawn.states.end(), [&](const DrawState& a, const DrawState& b) {
                return std::abs(a.draw - wanted) < std::abs(b.draw - wanted);
            });
        const double way[] = {-from.draw, -wanted};
        const solver::Path path =
            trace(start_.strung.bow.system, from.state, start_.strung.bow.nock[0], way, held, workspace);
        if (path.failure)
            throw std::runtime_error(fmt::format("no state was found at a draw length of {:.1f} mm: {}",
                                                 wanted + draw_length_beyond_pivot,
                                                 path.failure->cause.reason));
        start_.states.push_back(path.states.back().equilibrium.state);
    }
    for (int round = 0; round < 20 && std::abs(off_centre(start_)) > 0.1 * stride; ++round) {
        std::optional<BenchStates> better = centred(start_);
        if (!better) break;
        start_ = std::move(*better);
    }
}

void BenchModel::settle_stops(StrungBow& strung) const {
    place_stops(strung.bow, strung.brace.state);
    if (full_draw(bow_)) return;
    for (const AxleParts& axle : strung.bow.axles)
        if (axle.stop)
            strung.bow.system = strung.bow.system.with(
                *axle.stop,
                std::make_shared<const solver::Spring>(turn_against_limbs(axle), solver::Spring::Data{}));
}

bool BenchModel::find_states(BenchStates& states, const std::vector<State>& near) const {
    const AssembledBow& bow = states.strung.bow;
    const std::vector<int> held = held_while_drawing(bow);
    solver::Workspace workspace(bow.system);
    states.states.clear();
    for (std::size_t i = 0; i < states.draws.size(); ++i) {
        State start = near[i];
        start.at(bow.nock[0]) = -states.draws[i];
        solver::FoundEquilibrium found = find_equilibrium(bow.system, start, held, workspace, few_iterations);
        if (std::holds_alternative<solver::NotConverged>(found)) return false;
        states.states.push_back(std::get<solver::Equilibrium>(std::move(found)).state);
    }
    return true;
}

std::optional<BenchStates> BenchModel::solve(const VecX& values, const BenchStates& near) const {
    const Bow bow = with_values(bow_, parameters_, values);
    BenchStates states{{assemble(bow), near.strung.brace, near.strung.lengths}, near.draws, {}};
    AssembledBow& assembled = states.strung.bow;
    const Cables& cables = bow.cables;
    VecX lengths =
        twisted(assembled, cables.string_above
                               ? NaturalLengths{*cables.string_above, *cables.string_below, cables.cables}
                               : near.strung.lengths);
    solver::Workspace workspace(assembled.system);
    if (!settle_brace(assembled, lengths, states.strung.brace.state, workspace)) return std::nullopt;
    states.strung.lengths = untwisted(assembled, lengths);
    assembled.system = with_lengths(assembled, lengths);
    settle_stops(states.strung);
    if (!find_states(states, near.states)) return std::nullopt;
    return states;
}

double BenchModel::off_centre(const BenchStates& states) const {
    const std::vector<State> about(states.states.begin(), states.states.begin() + 3);
    const VecX f = forces(states.strung, about);
    return stride * top_of(f[0], f[1], f[2]);
}

std::optional<BenchStates> BenchModel::centred(const BenchStates& states) const {
    const double brace = -states.strung.brace.state.at(states.strung.bow.nock[0]);
    BenchStates moved{states.strung, states.draws, {}};
    const double middle =
        std::clamp(states.draws[1] + off_centre(states), brace + 2 * stride, states.draws[full] - stride);
    for (int i = 0; i < 3; ++i) moved.draws[static_cast<std::size_t>(i)] = middle + (i - 1) * stride;
    if (!find_states(moved, states.states)) return std::nullopt;
    return moved;
}

VecX BenchModel::forces(const StrungBow& strung, const std::vector<State>& states) {
    const int nock = strung.bow.system.numbering().first(strung.bow.nock[0]);
    VecX forces(static_cast<Eigen::Index>(states.size()));
    for (std::size_t i = 0; i < states.size(); ++i)
        forces[static_cast<Eigen::Index>(i)] = -total_gradient(strung.bow.system, states[i])[nock];
    return forces;
}

VecX BenchModel::values(const StrungBow& strung, const std::vector<State>& states) const {
    const AssembledBow& bow = strung.bow;
    const VecX force = forces(strung, states);
    const DrawState brace = draw_state(bow, strung.brace.state);
    DrawState peak = draw_state(bow, states[1]);
    peak.force = parabola(force[0], force[1], force[2], top_of(force[0], force[1], force[2]));
    const ShortDraw whole{{{brace, peak, draw_state(bow, states[full])}, {}, {}}, 1};
    VecX values(static_cast<Eigen::Index>(queries_.size()));
    for (std::size_t k = 0; k < queries_.size(); ++k) {
        const BenchQuery& query = queries_[k];
        values[static_cast<Eigen::Index>(k)] = query.quantity.value(
            bow, query.draw ? ShortDraw{{{brace, draw_state(bow, states[places_[k]])}, {}, {}}} : whole);
    }
    return values;
}

VecX BenchModel::values(const BenchStates& states) const {
    return values(states.strung, states.states);
}

MatX BenchModel::slopes(const BenchStates& today, const std::optional<std::vector<int>>& which) const {
    const AssembledBow& bow = today.strung.bow;
    const bool given = bow.bow.cables.string_above.has_value();
    const State& brace = today.strung.brace.state;
    solver::Workspace workspace(bow.system);
    const auto factored = [&](const State& state, const std::vector<int>& held) {
        solver::BlockFactor factor(bow.system.shared_plan());
        solver::assemble(bow.system, state, workspace.gradient, workspace.sizes, workspace.tangent);
        if (!factor.factor(workspace.tangent, held))
            throw std::runtime_error("a state at the bench has a tangent without an inverse");
        return factor;
    };
    const solver::BlockFactor at_brace = factored(brace, held_at_brace(bow));
    std::vector<solver::BlockFactor> drawn;
    for (const State& state : today.states) drawn.push_back(factored(state, held_while_drawing(bow)));

    MatX by_lengths;
    Eigen::FullPivLU<MatX> unmet_by_lengths;
    if (!given) {
        const MatX loads = loads_of_lengths(bow, bow.system, brace);
        by_lengths.resize(loads.rows(), loads.cols());
        MatX unmet(loads.cols(), loads.cols());
        constexpr double h = 1e-3;  // mm
        for (int i = 0; i < loads.cols(); ++i) {
            by_lengths.col(i) = at_brace.solve(loads.col(i));
            unmet.col(i) = (unmet_at_brace(bow, moved(brace, VecX(h * by_lengths.col(i)))) -
                            unmet_at_brace(bow, moved(brace, VecX(-h * by_lengths.col(i))))) /
                           (2 * h);
        }
        unmet_by_lengths.compute(unmet);
    }

    const VecX base = values_of(bow.bow, parameters_);
    MatX slopes = MatX::Zero(static_cast<Eigen::Index>(queries_.size()), base.size());
    for (Eigen::Index p = 0; p < base.size(); ++p) {
        if (which && std::ranges::find(*which, p) == which->end()) continue;
        const double h = parameters_[static_cast<std::size_t>(p)].step;
        const auto rebuilt = [&](double change) {
            Bow changed = bow.bow;
            parameters_[static_cast<std::size_t>(p)].set(changed, base[p] + change);
            const NaturalLengths lengths =
                given ? NaturalLengths{*changed.cables.string_above, *changed.cables.string_below,
                                       changed.cables.cables}
                      : today.strung.lengths;
            StrungBow strung{assemble(changed), today.strung.brace, lengths};
            strung.bow.system = with_lengths(strung.bow, twisted(strung.bow, lengths));
            return strung;
        };
        StrungBow more = rebuilt(h), less = rebuilt(-h);
        const auto slope_at = [&](const State& state, const solver::BlockFactor& factor) {
            return factor.solve(VecX(
                (total_gradient(less.bow.system, state) - total_gradient(more.bow.system, state)) / (2 * h)));
        };
        VecX slope = slope_at(brace, at_brace);
        if (!given) {
            const VecX unmet = (unmet_at_brace(more.bow, moved(brace, VecX(h * slope))) -
                                unmet_at_brace(less.bow, moved(brace, VecX(-h * slope)))) /
                               (2 * h);
            const VecX longer = -unmet_by_lengths.solve(unmet);
            slope += by_lengths * longer;
            const VecX lengths = twisted(bow, today.strung.lengths);
            more.bow.system = with_lengths(more.bow, lengths + h * longer);
            less.bow.system = with_lengths(less.bow, lengths - h * longer);
        }
        std::vector<State> after, before;
        more.brace.state = moved(brace, VecX(h * slope));
        less.brace.state = moved(brace, VecX(-h * slope));
        settle_stops(more);
        settle_stops(less);
        for (std::size_t i = 0; i < today.states.size(); ++i) {
            const VecX way = slope_at(today.states[i], drawn[i]);
            after.push_back(moved(today.states[i], VecX(h * way)));
            before.push_back(moved(today.states[i], VecX(-h * way)));
        }
        slopes.col(p) = (values(more, after) - values(less, before)) / (2 * h);
    }
    return slopes;
}

}  // namespace limbwright::models
