#include "models/matching.hpp"

#include <ceres/ceres.h>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/bench_model.hpp"

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

/// Scales, measured numbers and prior values of one match.
struct Data {
    VecX prior, prior_sigma;  ///< of the parameters, inside units
    VecX measured, sigma;     ///< of the measurements
    /// Scaled slopes: measurements' standard deviations per parameters'.
    [[nodiscard]] MatX scaled(const MatX& slopes) const {
        return sigma.cwiseInverse().asDiagonal() * slopes * prior_sigma.asDiagonal();
    }
};

/// The least squares' outcome, scaled.
struct Fit {
    VecX x;  ///< changes from the prior values
    VecX r;  ///< residuals of the measurements
    BenchStates states;
};

/// Residuals of measurements and prior values, for the parameters that are fitted.
class Residuals : public ceres::CostFunction {
public:
    Residuals(const BenchModel& model, const Data& data, std::vector<int> fitted, const BenchStates& start)
        : model_(model), data_(data), fitted_(std::move(fitted)), states_(start), settled_(start) {
        set_num_residuals(static_cast<int>(data.measured.size() + count()));
        mutable_parameter_block_sizes()->push_back(static_cast<int>(count()));
    }

    /// Of a change of the fitted parameters; false where the bow cannot be solved: the step is then
    /// shortened.
    bool Evaluate(double const* const* parameters, double* residuals, double** jacobians) const override {
        const Eigen::Map<const VecX> y(parameters[0], count());
        if (!move_to(y)) return false;
        const Eigen::Index m = data_.measured.size();
        Eigen::Map<VecX> all(residuals, m + count());
        all << residual(), y;
        if (!all.allFinite()) return false;
        if (!jacobians || !jacobians[0]) return true;
        using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
        Eigen::Map<RowMajor> J(jacobians[0], m + count(), count());
        J.bottomRows(count()).setIdentity();
        try {
            const MatX A = data_.scaled(model_.slopes(states_, fitted_));
            settled_ = states_;
            for (Eigen::Index i = 0; i < count(); ++i)
                J.col(i).head(m) = A.col(fitted_[static_cast<std::size_t>(i)]);
        } catch (const std::runtime_error&) {
            return false;
        }
        return J.allFinite();
    }

    /// Where the last call stood; moves there first.
    std::optional<Fit> outcome(const VecX& y) const {
        if (!move_to(y)) return std::nullopt;
        return Fit{spread(y), residual(), states_};
    }
    [[nodiscard]] int solved() const { return solved_; }

private:
    [[nodiscard]] Eigen::Index count() const { return static_cast<Eigen::Index>(fitted_.size()); }
    [[nodiscard]] VecX spread(const VecX& y) const {
        VecX x = VecX::Zero(data_.prior.size());
        for (Eigen::Index i = 0; i < count(); ++i) x[fitted_[static_cast<std::size_t>(i)]] = y[i];
        return x;
    }
    [[nodiscard]] VecX residual() const {
        return (model_.values(states_) - data_.measured).cwiseQuotient(data_.sigma);
    }
    bool move_to(const VecX& y) const {
        if (at_ && *at_ == y) return true;
        std::optional<BenchStates> found =
            model_.solve(data_.prior + spread(y).cwiseProduct(data_.prior_sigma), settled_);
        ++solved_;
        if (!found) return false;
        states_ = std::move(*found);
        at_ = y;
        return true;
    }

    const BenchModel& model_;
    const Data& data_;
    std::vector<int> fitted_;
    mutable BenchStates states_;   ///< of the last parameters that could be solved
    mutable BenchStates settled_;  ///< of the last step that was taken, from which trial steps start
    mutable std::optional<VecX> at_;
    mutable int solved_ = 0;
};

/// Matches one bow to one sheet.
class Matcher {
public:
    Matcher(const Bow& bow, const BenchSheet& sheet)
        : bow_(bow),
          sheet_(sheet),
          quantities_(bench_quantities(bow)),
          model_(bow, parameters_for(bow, sheet), queries()) {
        const std::size_t m = sheet.measurements.size();
        data_.prior = values_of(bow, model_.parameters());
        data_.prior_sigma.resize(data_.prior.size());
        for (Eigen::Index i = 0; i < data_.prior.size(); ++i) data_.prior_sigma[i] = parameter(i).sigma;
        data_.measured.resize(static_cast<Eigen::Index>(m));
        data_.sigma.resize(static_cast<Eigen::Index>(m));
        for (std::size_t k = 0; k < m; ++k) {
            data_.measured[static_cast<Eigen::Index>(k)] = sheet.measurements[k].value;
            data_.sigma[static_cast<Eigen::Index>(k)] = sheet.measurements[k].sigma;
        }
    }

    std::variant<Match, NotMatched> run() {
        std::vector<bool> fitted(model_.parameters().size(), true);
        std::variant<Fit, NotMatched> all = fit(fitted, VecX::Zero(data_.prior.size()), model_.start());
        if (auto* lost = std::get_if<NotMatched>(&all)) return *lost;
        const Fit& free = std::get<Fit>(all);
        const MatX A = data_.scaled(model_.slopes(free.states));
        fitted = worth_fitting(A);
        std::variant<Fit, NotMatched> some = fit(fitted, free.x, free.states);
        if (auto* lost = std::get_if<NotMatched>(&some)) return *lost;
        const Fit& last = std::get<Fit>(some);

        Match match;
        match.bow =
            with_values(bow_, model_.parameters(), data_.prior + last.x.cwiseProduct(data_.prior_sigma));
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
        match.states = solved_;
        return match;
    }

private:
    static std::vector<MatchParameter> parameters_for(const Bow& bow, const BenchSheet& sheet) {
        std::vector<MatchParameter> parameters = match_parameters(bow);
        std::erase_if(parameters, [&](const MatchParameter& p) {
            return p.key.starts_with("rest_") &&
                   std::ranges::find(sheet.measurements, p.key, &Measurement::quantity) ==
                       sheet.measurements.end();
        });
        for (MatchParameter& p : parameters)
            if (const auto own = sheet.bow_sure.find(p.key); own != sheet.bow_sure.end())
                p.sigma = own->second;
        return parameters;
    }

    [[nodiscard]] std::vector<BenchQuery> queries() const {
        std::vector<BenchQuery> all;
        for (const Measurement& m : sheet_.measurements) all.push_back(query(m.quantity, m.at));
        return all;
    }
    [[nodiscard]] BenchQuery query(const std::string& key, std::optional<double> draw_length) const {
        const BenchQuantity* quantity = find(quantities_, key);
        if (!quantity) throw std::invalid_argument("there is no measurement \"" + key + "\" on this bow");
        BenchQuery made{*quantity, {}};
        if (draw_length) made.draw = *draw_length - draw_length_beyond_pivot;
        return made;
    }
    [[nodiscard]] const MatchParameter& parameter(Eigen::Index i) const {
        return model_.parameters()[static_cast<std::size_t>(i)];
    }

    /// @param x  where to start, of all parameters
    std::variant<Fit, NotMatched> fit(const std::vector<bool>& fitted, const VecX& x, BenchStates start) {
        std::vector<int> which;
        for (std::size_t i = 0; i < fitted.size(); ++i)
            if (fitted[i]) which.push_back(static_cast<int>(i));
        VecX y(static_cast<Eigen::Index>(which.size()));
        for (std::size_t i = 0; i < which.size(); ++i) y[static_cast<Eigen::Index>(i)] = x[which[i]];
        constexpr int rounds = 4;
        bool ended = true;
        for (int round = 0;; ++round) {
            if (std::optional<BenchStates> better = model_.centred(start)) start = std::move(*better);
            // With what is not fitted back at the bow file's values the bow may be far from where it was.
            std::optional<Residuals> made(std::in_place, model_, data_, which, start);
            if (!made->outcome(y)) {
                y.setZero();
                made.emplace(model_, data_, which, model_.start());
            }
            Residuals& residuals = *made;
            if (!which.empty())
                if (const std::optional<std::string> why = minimise(residuals, least_of(which), y, ended))
                    return NotMatched{*why};
            std::optional<Fit> found = residuals.outcome(y);
            solved_ += residuals.solved();
            ended_ = ended;
            if (!found) return NotMatched{"the matched bow could not be solved"};
            // Peak weight is read off a parabola: fit again where the peak has walked far from its middle.
            if (round + 1 == rounds || !ended || std::abs(model_.off_centre(found->states)) < peak_walk)
                return std::move(*found);
            start = std::move(found->states);
        }
    }

    /// Lower ends of the fitted parameters, scaled.
    [[nodiscard]] VecX least_of(const std::vector<int>& which) const {
        VecX least(static_cast<Eigen::Index>(which.size()));
        for (std::size_t i = 0; i < which.size(); ++i) {
            double& end = least[static_cast<Eigen::Index>(i)];
            end = -farthest;
            if (parameter(which[i]).relative)
                end = std::max(end,
                               (least_stiffness - 1) * data_.prior[which[i]] / data_.prior_sigma[which[i]]);
        }
        return least;
    }

    static std::optional<std::string> minimise(Residuals& residuals, const VecX& least, VecX& y,
                                               bool& ended) {
        ceres::Problem::Options owned;
        owned.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
        ceres::Problem problem(owned);
        problem.AddResidualBlock(&residuals, nullptr, y.data());
        for (int i = 0; i < y.size(); ++i) {
            problem.SetParameterLowerBound(y.data(), i, least[i]);
            problem.SetParameterUpperBound(y.data(), i, farthest);
        }
        ceres::Solver::Options options;
        options.linear_solver_type = ceres::DENSE_QR;
        options.max_num_iterations = 20;
        options.initial_trust_region_radius =
            100;  // a first step that cannot be solved is not repeated for long
        options.max_num_consecutive_invalid_steps = 12;  // bows that cannot be solved: shorter steps
        options.function_tolerance = 1e-5;  // share of the sum of squares: far below one standard deviation
        options.parameter_tolerance = 1e-6;
        options.num_threads = 1;
        options.logging_type = ceres::SILENT;
        ceres::Solver::Summary summary;
        ceres::Solve(options, &problem, &summary);
        ended = summary.termination_type == ceres::CONVERGENCE;
        if (summary.IsSolutionUsable()) return {};
        return "the fit does not come to an end: " + summary.message;
    }

    void tell_parameters(const MatX& A, const Fit& last, const std::vector<bool>& fitted, Match& match) {
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

    void tell_ends(const Fit& last, Match& match) const {
        if (!ended_)
            match.warnings.emplace_back(
                "the fit did not come to an end: its numbers are the best that were found; look at the "
                "contradictions "
                "first");
        std::vector<int> every;
        for (int i = 0; i < last.x.size(); ++i) every.push_back(i);
        const VecX least = least_of(every);
        for (const int i : every)
            if (last.x[i] < least[i] + 0.01 || last.x[i] > farthest - 0.01)
                match.warnings.push_back(
                    fmt::format("{} has run to the end of what is tried, {:.1f} standard deviations from the "
                                "bow file's value: "
                                "check the measurements and their units, then the bow file",
                                parameter(i).name, std::abs(last.x[i])));
    }

    void tell_measurements(const MatX& A, const Fit& free, const Fit& last, Match& match) {
        const VecX before = model_.values(model_.start()), after = model_.values(last.states);
        const std::vector<CrossCheck> checks = cross_checks(A, free.r);
        for (std::size_t k = 0; k < sheet_.measurements.size(); ++k) {
            const Eigen::Index i = static_cast<Eigen::Index>(k);
            const BenchQuantity& quantity = *find(quantities_, sheet_.measurements[k].quantity);
            match.measurements.push_back({sheet_.measurements[k], quantity.name, quantity.dimension,
                                          before[i], after[i], last.r[i], checks[k]});
        }
    }

    void tell_contradictions(const MatX& A, const Fit& free, Match& match) {
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
        const auto& done = sheet_.measurements;
        for (const BenchQuantity& q : quantities_) {
            if (q.key.starts_with("rest_")) continue;
            if (!q.at_a_draw) {
                if (std::ranges::find(done, q.key, &Measurement::quantity) == done.end())
                    all.push_back({q.key, q.name, {}, q.sigma});
                continue;
            }
            const BenchStates& start = model_.start();
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
            asked.push_back(query(candidates[k].quantity, candidates[k].at));
            sigma[static_cast<Eigen::Index>(k)] = candidates[k].sigma;
        }
        const BenchModel model(match.bow, model_.parameters(), std::move(asked));
        const MatX rows =
            sigma.cwiseInverse().asDiagonal() * model.slopes(model.start()) * data_.prior_sigma.asDiagonal();
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

    static constexpr double peak_walk = 12;  ///< mm

    const Bow& bow_;
    const BenchSheet& sheet_;
    std::vector<BenchQuantity> quantities_;
    BenchModel model_;
    Data data_;
    int solved_ = 0;
    bool ended_ = true;  ///< the last fit
};

}  // namespace

std::variant<Match, NotMatched> match(const Bow& bow, const BenchSheet& sheet) {
    if (sheet.measurements.empty()) return NotMatched{"nothing was measured"};
    try {
        return Matcher(bow, sheet).run();
    } catch (const std::runtime_error& error) {
        return NotMatched{error.what()};
    }
}

}  // namespace limbwright::models
