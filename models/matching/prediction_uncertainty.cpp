#include "models/matching/prediction_uncertainty.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "models/matching/forward_model.hpp"
#include "models/matching/joint_forward_model.hpp"
#include "models/states/measure_table.hpp"
#include "models/study/parallel_for.hpp"
#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

const std::array tail_turn{MeasureKey{"tail_turn_lateral"}, MeasureKey{"tail_turn_vertical"}};

std::vector<BenchQuery> wanted_queries(const Bow& bow, const std::vector<Measurement>& measured) {
    std::vector<BenchQuery> all;
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    for (const BenchQuantity& q : quantities)
        if (!q.at_a_draw) all.push_back({q, {}});
    for (const Measurement& m : measured)
        if (m.at) all.push_back(bench_query(quantities, m.quantity, m.at));
    MeasureTable table = measure_table(assemble(bow));
    std::ranges::copy(tear_measures(), std::back_inserter(table.draw));
    for (const MeasureKey& key :
         {tail_turn[0], tail_turn[1], MeasureKey{"lean_top", DrawPlace::brace},
          MeasureKey{"lean_top", DrawPlace::full_draw}, MeasureKey{"lean_bottom", DrawPlace::brace},
          MeasureKey{"lean_bottom", DrawPlace::full_draw},
          MeasureKey{"nock_travel_lateral", DrawPlace::full_draw}})
        all.push_back({{"", *find(table, key), nullptr}, {}});
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

Outlook outlook(const Corrections& today, const Tune& tune, const Brace& brace,
                const std::vector<BenchQuery>& queries) {
    const Bow labelled = with_tune(today.bow, tune);
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

/// Rows of the tail turn among the queries: lateral, vertical.
std::array<Eigen::Index, 2> turn_rows(const std::vector<BenchQuery>& queries) {
    const auto row = [&](const MeasureKey& key) {
        const auto found = std::ranges::find(queries, key, [](const auto& q) { return q.quantity.of.key(); });
        return static_cast<Eigen::Index>(found - queries.begin());
    };
    return {row(tail_turn[0]), row(tail_turn[1])};
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
    foresight.sure_then = foresight.answered_sigma;
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
        foresight.measure_first = q.name();
    }
}

}  // namespace

Cures with_foresight(Cures cures, const TuneSolver& solver, const Corrections& match,
                     const std::vector<Measurement>& measured, int threads) {
    const Corrections today = completed(match);
    const std::vector<BenchQuery> queries = wanted_queries(today.bow, measured);
    const SolvedTune& now = solver.today();
    const Outlook before = outlook(today, now.tune, brace_of(now.strung), queries);
    const VecX before_sigma = sigmas(before, today.errors);
    std::vector<Outlook> outlooks(cures.ranked.size());
    parallel_for(std::ssize(cures.ranked), {.threads = threads}, [&](int, std::int64_t i, std::int64_t) {
        outlooks[i] = outlook(today, cures.ranked[i].tune, cures.ranked[i].brace, queries);
    });
    for (std::size_t i = 0; i < cures.ranked.size(); ++i) {
        Cure& cure = cures.ranked[i];
        const Outlook& after = outlooks[i];
        const VecX after_sigma = sigmas(after, today.errors);
        const Outlook left = missing(cures.wanted, before, after);
        Foresight& foresight = cure.foresight.emplace();
        foresight.answered_sigma = answered_sigma(cures.wanted, left, queries, today.errors);
        find_best_measurement(cures.wanted, before, left, queries, today.errors, measured, foresight);
        for (std::size_t k = 0; k < queries.size(); ++k) {
            const BenchQuantity& quantity = queries[k].quantity;
            const auto row = static_cast<Eigen::Index>(k);
            const double factor = quantity.factor();
            for (CureMeasure& m : cure.measures)
                if (m.of.key() == quantity.of.key()) {
                    m.before_sigma = before_sigma[row] / factor;
                    m.after_sigma = after_sigma[row] / factor;
                }
            if (quantity.key.empty()) continue;
            Measurement made{quantity.key, {}, after.values[row], after_sigma[row]};
            if (queries[k].draw) made.at = *queries[k].draw + draw_length_beyond_pivot;
            foresight.predicted.push_back(rounded(std::move(made), *quantity.dimension));
        }
    }
    return cures;
}

}  // namespace limbwright::models
