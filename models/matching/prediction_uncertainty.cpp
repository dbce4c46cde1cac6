#include "models/matching/prediction_uncertainty.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <future>
#include <stdexcept>

#include "models/matching/forward_model.hpp"
#include "models/matching/joint_forward_model.hpp"
#include "models/states/measures.hpp"
#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

/// A draw of two states, all that these measures look at.
Draw brace_and_full(const BenchReading& r) {
    Draw draw;
    for (const solver::State* state : {&r.strung.brace.state, &r.full_draw}) {
        draw.states.emplace_back();
        draw.states.back().state = *state;
        draw.states.back().draw = -state->at(r.strung.bow.nock[0]);
    }
    return draw;
}

BenchQuantity tear_quantity(const std::string& name) {
    return {"", name, nullptr, 0, "", false, [name](const BenchReading& r) {
                return tear_measure(name, r.strung, brace_and_full(r));
            }};
}

/// @param state  0: brace, 1: full draw
BenchQuantity state_quantity(const std::string& measure, std::size_t state) {
    return {"",
            measure + (state == 0 ? ", at brace" : ", at full draw"),
            nullptr,
            0,
            "",
            false,
            [=](const BenchReading& r) {
                const std::vector<StateMeasure> all = state_measures(r.strung.bow);
                const auto found = std::ranges::find(all, measure, &StateMeasure::name);
                if (found == all.end()) throw std::logic_error("there is no measure " + measure);
                const Draw draw = brace_and_full(r);
                return found->value({r.strung.bow, draw, state, 0});
            }};
}

std::vector<BenchQuery> wanted_queries(const Bow& bow, const std::vector<Measurement>& measured) {
    std::vector<BenchQuery> all;
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    for (const BenchQuantity& q : quantities)
        if (!q.at_a_draw) all.push_back({q, {}});
    for (const Measurement& m : measured)
        if (m.at) all.push_back(bench_query(quantities, m.quantity, m.at));
    for (const char* name : {"tail turn, lateral", "tail turn, vertical"})
        all.push_back({tear_quantity(name), {}});
    for (const char* name : {"cam lean, top", "cam lean, bottom"})
        for (const std::size_t state : {0, 1}) all.push_back({state_quantity(name, state), {}});
    all.push_back({state_quantity("nock travel, lateral", 1), {}});
    return all;
}

/// With those of the bow's parameters that the match left out, at their prior values.
Corrections completed(Corrections today) {
    for (const MatchParameter& p : match_parameters(today.bow)) {
        if (std::ranges::find(today.parameters, p.key, &MatchParameter::key) != today.parameters.end())
            continue;
        const Eigen::Index n = today.change.size();
        today.parameters.push_back(p);
        today.change.conservativeResize(n + 1);
        today.change[n] = 0;
        today.errors.conservativeResize(n + 1, n + 1);
        today.errors.row(n).setZero();
        today.errors.col(n).setZero();
        today.errors(n, n) = p.sigma * p.sigma;
    }
    return today;
}

/// What a tune shows, with its slopes by today's parameters.
struct Outlook {
    VecX values;
    MatX slopes;
    VecX strangers;  ///< variance by limbs that are not in today's bow
};

Outlook outlook(const Corrections& today, const Layout& tune, const Brace& brace,
                const std::vector<BenchQuery>& queries) {
    const Bow labelled = with_layout(today.bow, tune);
    Bow bow = today.applied(labelled);
    if (!bow.cables.string_above) bow.brace = brace;
    const std::vector<MatchParameter> parameters = match_parameters(labelled);
    const std::vector<int> places = partners(labelled, parameters, today.bow, today.parameters);
    const BenchModel model(bow, parameters, queries);
    const MatX slopes = model.slopes(model.start());
    Outlook look{model.values(model.start()), MatX::Zero(slopes.rows(), today.change.size()),
                 VecX::Zero(slopes.rows())};
    for (std::size_t k = 0; k < places.size(); ++k) {
        const auto column = slopes.col(static_cast<Eigen::Index>(k));
        if (places[k] >= 0)
            look.slopes.col(places[k]) += column;
        else
            look.strangers += (parameters[k].sigma * column).cwiseAbs2();
    }
    return look;
}

VecX sigmas(const Outlook& look, const MatX& errors) {
    return ((look.slopes * errors).cwiseProduct(look.slopes).rowwise().sum() + look.strangers)
        .cwiseMax(0)
        .cwiseSqrt();
}

/// "timing, at full draw" is the bench's "timing at full draw".
std::string without_commas(std::string name) {
    std::erase(name, ',');
    return name;
}

/// Rows of the tail turn among the queries: lateral, vertical.
std::array<Eigen::Index, 2> turn_rows(const std::vector<BenchQuery>& queries) {
    const auto row = [&](const char* name) {
        const auto found = std::ranges::find(queries, name, [](const auto& q) { return q.quantity.name; });
        return static_cast<Eigen::Index>(found - queries.begin());
    };
    return {row("tail turn, lateral"), row("tail turn, vertical")};
}

/// What the cure leaves of the tear: the turn afterwards where the bow's statics explain the tear, else the
/// change.
Outlook missing(const Wanted& wanted, const Outlook& before, const Outlook& after) {
    Outlook left = after;
    if (!wanted.seen) left.slopes -= before.slopes;
    return left;
}

/// Standard deviation of the share answered.
double answered_sigma(const Wanted& wanted, const Outlook& left, const std::vector<BenchQuery>& queries,
                      const MatX& errors) {
    const VecX all = sigmas(left, errors);
    double variance = 0;
    for (int i = 0; i < 2; ++i)
        if (wanted.directions[i] != 0)
            variance += std::pow(all[turn_rows(queries)[static_cast<std::size_t>(i)]], 2);
    return std::sqrt(variance) / wanted.change.norm();
}

/// The measurement of today's bow that makes the share answered surest.
void find_best_measurement(const Wanted& wanted, const Outlook& before, const Outlook& left,
                           const std::vector<BenchQuery>& queries, const MatX& errors,
                           const std::vector<Measurement>& measured, Foresight& foresight) {
    foresight.sure_then = answered_sigma(wanted, left, queries, errors);
    for (std::size_t k = 0; k < queries.size(); ++k) {
        const BenchQuantity& q = queries[k].quantity;
        if (q.key.empty() || q.at_a_draw ||
            std::ranges::find(measured, q.key, &Measurement::quantity) != measured.end())
            continue;
        const VecX row = before.slopes.row(static_cast<Eigen::Index>(k)).transpose();
        const VecX gain = errors * row;
        const MatX then = errors - gain * gain.transpose() / (row.dot(gain) + q.sigma * q.sigma);
        const double sure = answered_sigma(wanted, left, queries, then);
        if (sure >= foresight.sure_then) continue;
        foresight.sure_then = sure;
        foresight.measure_first = q.name;
    }
}

}  // namespace

std::vector<Foresight> tell_sureness(Cures& cures, const TuneSolver& solver, const Corrections& match,
                                     const std::vector<Measurement>& measured) {
    const Corrections today = completed(match);
    const std::vector<BenchQuery> queries = wanted_queries(today.bow, measured);
    std::vector<std::future<Outlook>> running;
    for (const Cure& cure : cures.ranked)
        running.push_back(
            std::async(std::launch::async, [&] { return outlook(today, cure.layout, cure.brace, queries); }));
    const SolvedTune& now = solver.today();
    const Outlook before = outlook(today, now.layout, brace_of(now.strung), queries);
    const VecX before_sigma = sigmas(before, today.errors);
    std::vector<Foresight> all;
    for (std::size_t i = 0; i < cures.ranked.size(); ++i) {
        Cure& cure = cures.ranked[i];
        const Outlook after = running[i].get();
        const VecX after_sigma = sigmas(after, today.errors);
        const Outlook left = missing(cures.wanted, before, after);
        cure.answered_sigma = answered_sigma(cures.wanted, left, queries, today.errors);
        Foresight& foresight = all.emplace_back();
        find_best_measurement(cures.wanted, before, left, queries, today.errors, measured, foresight);
        for (std::size_t k = 0; k < queries.size(); ++k) {
            const BenchQuantity& quantity = queries[k].quantity;
            const auto row = static_cast<Eigen::Index>(k);
            const double factor = quantity.dimension ? quantity.dimension->units.front().factor : 1;
            for (CureMeasure& m : cure.measures)
                if (without_commas(m.name) == without_commas(quantity.name)) {
                    m.before_sigma = before_sigma[row] / factor;
                    m.after_sigma = after_sigma[row] / factor;
                }
            if (quantity.key.empty()) continue;
            Measurement made{quantity.key, {}, after.values[row], after_sigma[row]};
            if (queries[k].draw) made.at = *queries[k].draw + draw_length_beyond_pivot;
            foresight.predicted.push_back(rounded(std::move(made), *quantity.dimension));
        }
    }
    return all;
}

}  // namespace limbwright::models
