#include "models/matching/calibration.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/matching/least_squares.hpp"

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

/// Matches one bow to what was measured on some days.
class Matcher {
public:
    Matcher(const Bow& bow, const std::vector<BenchDay>& days)
        : days_(days),
          quantities_(bench_quantities(bow)),
          model_(bow, days),
          data_(bench_data(model_, days)) {}

    std::variant<Match, NotMatched> run() {
        std::vector<bool> fitted(model_.parameters().size(), true);
        const auto all = best_fit(model_, data_, fitted, VecX::Zero(data_.prior.size()), model_.start());
        if (const auto* lost = std::get_if<NotFitted>(&all)) return NotMatched{lost->reason};
        const BenchFit& free = std::get<BenchFit>(all);
        const MatX A = data_.scaled(model_.slopes(free.states));
        fitted = worth_fitting(A);
        const auto some = best_fit(model_, data_, fitted, free.x, free.states);
        if (const auto* lost = std::get_if<NotFitted>(&some)) return NotMatched{lost->reason};
        const BenchFit& last = std::get<BenchFit>(some);

        Match match;
        match.today = corrections(A, last, fitted);
        match.bow = match.today.applied(match.today.bow);
        match.squares = free.r.squaredNorm() + free.x.squaredNorm();
        tell_parameters(A, last, fitted, match);
        tell_ends(last, match);
        tell_measurements(A, free, last, match);
        tell_contradictions(A, free, match);
        tell_alike(A, match);
        try {
            tell_next(A, match);
        } catch (const std::runtime_error& error) {
            match.warnings.push_back(fmt::format("the matched bow cannot be drawn: {}", error.what()));
        }
        match.states = free.solved + last.solved;
        return match;
    }

private:
    /// Of the last day's bow.
    [[nodiscard]] Corrections corrections(const MatX& A, const BenchFit& last,
                                          const std::vector<bool>& fitted) const {
        const JointModel::Day& today = model_.days().back();
        const VecX& scale = data_.prior_sigma;
        const MatX errors = scale.asDiagonal() * all_errors(A, fitted) * scale.asDiagonal();
        return {today.bow, today.parameters, model_.change(today, data_.prior + last.x.cwiseProduct(scale)),
                errors(today.places, today.places)};
    }
    [[nodiscard]] const MatchParameter& parameter(Eigen::Index i) const {
        return model_.parameters()[static_cast<std::size_t>(i)];
    }

    void tell_parameters(const MatX& A, const BenchFit& last, const std::vector<bool>& fitted, Match& match) {
        const VecX variance = covariance_after(A).diagonal();
        match.covariance = error_covariance(A, fitted);
        const MatX others = taken_on(A, fitted);
        std::vector<int> not_fitted;
        for (std::size_t i = 0; i < fitted.size(); ++i)
            if (!fitted[i]) not_fitted.push_back(static_cast<int>(i));
        Eigen::Index place = 0;
        std::vector<double> scale;
        for (Eigen::Index i = 0; i < data_.prior.size(); ++i) {
            const bool is_fitted = fitted[static_cast<std::size_t>(i)];
            MatchedParameter p{parameter(i),
                               data_.prior[i],
                               data_.prior[i],
                               data_.prior_sigma[i],
                               1 - variance[i],
                               Verdict::not_seen,
                               {}};
            if (is_fitted) {
                p.value += last.x[i] * data_.prior_sigma[i];
                p.sigma *= std::sqrt(match.covariance(place, place));
                p.verdict = p.share >= match_limits::seen_share ? Verdict::seen : Verdict::stands_for;
                for (std::size_t j = 0; j < not_fitted.size(); ++j)
                    if (std::abs(others(place, static_cast<Eigen::Index>(j))) >= match_limits::named)
                        p.with.push_back(not_fitted[j]);
                scale.push_back(data_.prior_sigma[i]);
                ++place;
            }
            match.parameters.push_back(std::move(p));
        }
        const Eigen::Map<const VecX> s(scale.data(), place);
        match.covariance = s.asDiagonal() * match.covariance * s.asDiagonal();
    }

    void tell_ends(const BenchFit& last, Match& match) const {
        if (!last.ended)
            match.warnings.emplace_back(
                "the fit did not come to an end: its numbers are the best that were found; look at the "
                "contradictions "
                "first");
        std::vector<int> every;
        for (int i = 0; i < last.x.size(); ++i) every.push_back(i);
        const VecX least = lower_ends(model_, data_, every);
        for (const int i : every)
            if (last.x[i] < least[i] + 0.01 || last.x[i] > farthest - 0.01)
                match.warnings.push_back(
                    fmt::format("{} has run to the end of what is tried, {:.1f} standard deviations from the "
                                "bow file's value: "
                                "check the measurements and their units, then the bow file",
                                parameter(i).name, std::abs(last.x[i])));
    }

    void tell_measurements(const MatX& A, const BenchFit& free, const BenchFit& last, Match& match) {
        const VecX before = model_.values(model_.start()), after = model_.values(last.states);
        const std::vector<CrossCheck> checks = cross_checks(A, free.r);
        for (std::size_t j = 0; j < days_.size(); ++j)
            for (const Measurement& m : days_[j].sheet.measurements) {
                const std::size_t k = match.measurements.size();
                const Eigen::Index i = static_cast<Eigen::Index>(k);
                const BenchQuantity& quantity = *find(quantities_, m.quantity);
                const std::string name =
                    days_.size() > 1 ? quantity.name + ", " + days_[j].name : quantity.name;
                match.measurements.push_back({m, name, quantity.dimension, before[i], after[i], last.r[i],
                                              checks[k], static_cast<int>(j)});
            }
    }

    void tell_contradictions(const MatX& A, const BenchFit& free, Match& match) {
        for (const Contradicting& c : contradicting(A, free.r, free.x)) {
            const MatchedMeasurement& m = match.measurements[static_cast<std::size_t>(c.measurement)];
            const double sigma = m.measurement.sigma;
            Contradiction made{c.measurement,
                               m.measurement.value + c.check.others * sigma,
                               c.check.others_sigma * sigma,
                               std::abs(c.check.normalised),
                               {}};
            made.sentence = fmt::format(
                "{}{}{} was measured as {}, but the bow file and the other measurements say {} ± {}: {:.1f} "
                "standard deviations apart. Measure it again; until then it pulls the match along.",
                m.name, m.measurement.at ? " at " + shown(*m.measurement.at, units::length) : "",
                m.measurement.line > 0 ? fmt::format(" ({}:{})", m.measurement.file, m.measurement.line) : "",
                shown(m.measurement.value, *m.dimension), shown(rounded(made.others), *m.dimension),
                shown(rounded(made.others_sigma, 2), *m.dimension), made.sigmas);
            match.contradictions.push_back(std::move(made));
        }
    }

    void tell_alike(const MatX& A, Match& match) {
        for (const AlikeGroup& group : told_apart_by_nothing(A)) {
            Alike alike{group.members, {}, {}};
            std::vector<std::string> parts;
            const double largest = *std::ranges::max_element(group.amounts);  // by size too, see `AlikeGroup`
            for (std::size_t i = 0; i < group.members.size(); ++i) {
                const MatchParameter& p = parameter(group.members[i]);
                alike.amounts.push_back(group.amounts[i] * p.sigma);
                if (std::abs(group.amounts[i]) < match_limits::named * largest) continue;
                const double unit = p.dimension ? p.dimension->units.front().factor : 1;
                parts.push_back(
                    fmt::format("{} by {:+.6g}{}", p.name, rounded(alike.amounts.back() / unit, 2),
                                p.dimension ? fmt::format(" {}", p.dimension->units.front().name) : ""));
            }
            alike.sentence =
                fmt::format("{} would hardly change these measurements", fmt::join(parts, " together with "));
            match.alike.push_back(std::move(alike));
        }
    }

    /// Quantities that were not measured, draw weights about a quarter, half and three quarters of the draw.
    [[nodiscard]] std::vector<NextMeasurement> not_measured() const {
        std::vector<NextMeasurement> all;
        const auto& done = days_.back().sheet.measurements;
        for (const BenchQuantity& q : quantities_) {
            if (q.key.starts_with("rest_")) continue;
            if (!q.at_a_draw) {
                if (std::ranges::find(done, q.key, &Measurement::quantity) == done.end())
                    all.push_back({q.key, q.name, {}, q.sigma});
                continue;
            }
            const BenchStates& start = model_.start().back();
            const double brace = -start.strung.brace.state.at(start.strung.bow.nock[0]);
            for (const double share : {0.25, 0.5, 0.75}) {
                const double draw = brace + share * (start.draws[3] - brace) + draw_length_beyond_pivot;
                const double at = std::round(draw / units::inch) * units::inch;
                if (std::ranges::none_of(done, [&](const Measurement& m) {
                        return m.at && std::abs(*m.at - at) < units::inch;
                    }))
                    all.push_back({q.key, q.name, at, q.sigma});
            }
        }
        return all;
    }

    void tell_next(const MatX& A, Match& match) {
        const std::vector<NextMeasurement> candidates = not_measured();
        if (candidates.empty()) return;
        std::vector<BenchQuery> asked;
        VecX sigma(static_cast<Eigen::Index>(candidates.size()));
        for (std::size_t k = 0; k < candidates.size(); ++k) {
            asked.push_back(bench_query(quantities_, candidates[k].quantity, candidates[k].at));
            sigma[static_cast<Eigen::Index>(k)] = candidates[k].sigma;
        }
        const BenchModel model(match.bow, match.today.parameters, std::move(asked));
        MatX slopes = MatX::Zero(sigma.size(), data_.prior.size());
        slopes(Eigen::all, model_.days().back().places) = model.slopes(model.start());
        const MatX rows = sigma.cwiseInverse().asDiagonal() * slopes * data_.prior_sigma.asDiagonal();
        for (const Worth& worth : worth_measuring(A, rows)) {
            NextMeasurement next = candidates[static_cast<std::size_t>(worth.row)];
            next.lessens = worth.lessens;
            next.parameter = worth.parameter;
            next.before = worth.before * parameter(worth.parameter).sigma;
            next.after = worth.after * parameter(worth.parameter).sigma;
            match.next.push_back(std::move(next));
        }
    }

    /// To so many digits, for sentences.
    static double rounded(double value, int digits = 5) {
        return std::stod(fmt::format("{:.{}g}", value, digits));
    }

    const std::vector<BenchDay>& days_;
    std::vector<BenchQuantity> quantities_;
    JointModel model_;
    BenchData data_;
};

}  // namespace

std::variant<Match, NotMatched> match(const Bow& bow, const std::vector<BenchDay>& days) {
    if (std::ranges::all_of(days, [](const BenchDay& day) { return day.sheet.measurements.empty(); }))
        return NotMatched{"nothing was measured"};
    try {
        return Matcher(bow, days).run();
    } catch (const std::runtime_error& error) {
        return NotMatched{error.what()};
    }
}

std::variant<Match, NotMatched> match(const Bow& bow, const BenchSheet& sheet) {
    return match(bow, {BenchDay{{}, bow.layout, sheet}});
}

}  // namespace limbwright::models
