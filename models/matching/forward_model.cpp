#include "models/matching/forward_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/states/state_sensitivity.hpp"

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

/// A bow that gives its lengths keeps them; what was measured at brace decides them elsewhere.
LengthRule rule_of(const Bow& bow) {
    return bow.cables.string_above ? LengthRule::kept : LengthRule::re_timed;
}

NaturalLengths lengths_of(const Bow& bow, const NaturalLengths& otherwise) {
    const Cables& cables = bow.cables;
    if (rule_of(bow) == LengthRule::re_timed) return otherwise;
    return {*cables.string_above, *cables.string_below, cables.cables};
}

/// Corrects the lengths until brace is as measured; false if it does not come to an end.
bool settle_brace(const AssembledBow& bow, VecX& lengths, State& brace, solver::Workspace& workspace) {
    const std::vector<int> held = held_at_brace(bow);
    for (int round = 0; round < 8; ++round) {
        const System system = with_lengths(bow, lengths);
        solver::FoundEquilibrium found = find_equilibrium(system, brace, held, workspace, few_iterations);
        if (std::holds_alternative<solver::NotConverged>(found)) return false;
        brace = std::get<solver::Equilibrium>(found).state;
        if (rule_of(bow.bow) == LengthRule::kept) return true;
        const VecX open = unmet_at_brace(bow, brace);
        if (open.lpNorm<Eigen::Infinity>() < 1e-8) return true;
        VecX change = brace_by_lengths(bow, system, brace, workspace.factor).meeting(open);
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

double draw_force(const AssembledBow& bow, const System& system, const State& state) {
    return -total_gradient(system, state)[system.numbering().first(bow.nock[0])];
}

VecX forces(const BenchStates& states) {
    const AssembledBow& bow = states.strung.bow;
    VecX forces(static_cast<Eigen::Index>(states.states.size()));
    for (Eigen::Index i = 0; i < forces.size(); ++i)
        forces[i] = draw_force(bow, bow.system, states.states[static_cast<std::size_t>(i)]);
    return forces;
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
    for (const End which : {End::top, End::bottom}) {
        const AxleParts& axle = start_.strung.bow.axle(which);
        left_out_[index(which)] = axle.stop && !full_draw(bow_) &&
                                  !stop_presses(start_.strung.bow, axle, drawn.states.back().state);
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
    for (const End end : {End::top, End::bottom})
        if (left_out_[index(end)]) strung.bow.system = with_stop(strung.bow.system, strung.bow.axle(end), {});
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
    VecX lengths = twisted(assembled, lengths_of(bow, near.strung.lengths));
    solver::Workspace workspace(assembled.system);
    if (!settle_brace(assembled, lengths, states.strung.brace.state, workspace)) return std::nullopt;
    states.strung.lengths = untwisted(assembled, lengths);
    assembled.system = with_lengths(assembled, lengths);
    settle_stops(states.strung);
    if (!find_states(states, near.states)) return std::nullopt;
    return states;
}

double BenchModel::off_centre(const BenchStates& states) const {
    const VecX f = forces(states);
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

VecX BenchModel::values(const StrungBow& strung, std::span<const State> states, const VecX& force) const {
    const AssembledBow& bow = strung.bow;
    const auto at = [&](std::size_t i) {
        DrawState s = draw_state(bow, states[i]);
        s.force = force[static_cast<Eigen::Index>(i)];
        return s;
    };
    const DrawState brace = draw_state(bow, strung.brace.state);
    DrawState peak = at(1);
    peak.force = parabola(force[0], force[1], force[2], top_of(force[0], force[1], force[2]));
    const ShortDraw whole{{{brace, peak, at(full)}, {}, {}}, 1};
    VecX values(static_cast<Eigen::Index>(queries_.size()));
    for (std::size_t k = 0; k < queries_.size(); ++k) {
        const BenchQuery& query = queries_[k];
        values[static_cast<Eigen::Index>(k)] =
            query.quantity.value(bow, query.draw ? ShortDraw{{{brace, at(places_[k])}, {}, {}}} : whole);
    }
    return values;
}

VecX BenchModel::values(const BenchStates& states) const {
    return values(states.strung, states.states, forces(states));
}

MatX BenchModel::slopes(const BenchStates& today, const std::optional<std::vector<int>>& which) const {
    const Bow& bow = today.strung.bow.bow;
    const StateSensitivity sensitivity(today.strung, today.states, rule_of(bow));
    const auto shown = [&](const BowStates& known) {
        VecX force(static_cast<Eigen::Index>(today.states.size()));
        for (std::size_t i = 1; i < known.states.size(); ++i)
            force[static_cast<Eigen::Index>(i) - 1] =
                draw_force(known.strung.bow, known.systems[i], known.states[i]);
        return values(known.strung, std::span(known.states).subspan(1), force);
    };
    const VecX base = values_of(bow, parameters_);
    MatX slopes = MatX::Zero(static_cast<Eigen::Index>(queries_.size()), base.size());
    for (Eigen::Index p = 0; p < base.size(); ++p) {
        if (which && std::ranges::find(*which, p) == which->end()) continue;
        const MatchParameter& parameter = parameters_[static_cast<std::size_t>(p)];
        const auto rebuilt = [&](double change) {
            Bow changed = bow;
            parameter.set(changed, base[p] + change);
            return rebuilt_from(today.strung, assemble(changed), lengths_of(changed, today.strung.lengths));
        };
        const StateSlopes by = sensitivity.by(rebuilt, parameter.step);
        slopes.col(p) = (shown(by.more) - shown(by.less)) / (2 * parameter.step);
    }
    return slopes;
}

}  // namespace limbwright::models
