#include "models/matching/least_squares.hpp"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

/// The peak's parabola is put anew where the peak lies farther from its middle [mm].
constexpr double peak_walk = 12;

/// Residuals of measurements and prior values, for the parameters that are fitted.
class Residuals : public ceres::CostFunction {
public:
    Residuals(const JointModel& model, const BenchData& data, std::vector<int> fitted, const DayStates& start)
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
    std::optional<BenchFit> outcome(const VecX& y) const {
        if (!move_to(y)) return std::nullopt;
        return BenchFit{spread(y), residual(), states_};
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
        std::optional<DayStates> found =
            model_.solve(data_.prior + spread(y).cwiseProduct(data_.prior_sigma), settled_);
        ++solved_;
        if (!found) return false;
        states_ = std::move(*found);
        at_ = y;
        return true;
    }

    const JointModel& model_;
    const BenchData& data_;
    std::vector<int> fitted_;
    mutable DayStates states_;   ///< of the last parameters that could be solved
    mutable DayStates settled_;  ///< of the last step that was taken, from which trial steps start
    mutable std::optional<VecX> at_;
    mutable int solved_ = 0;
};

/// Moves y to the best; why not, if it cannot.
std::optional<std::string> minimise(Residuals& residuals, const VecX& least, VecX& y, bool& ended) {
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
    options.initial_trust_region_radius = 100;  // a first step that cannot be solved is not repeated for long
    options.max_num_consecutive_invalid_steps = 12;  // bows that cannot be solved: shorter steps
    options.function_tolerance = 1e-5;  // share of the sum of squares: far below one standard deviation
    options.parameter_tolerance = 1e-6;
    // Of a standard deviation: where all is met to begin with, no share of the sum of squares is small.
    options.gradient_tolerance = 1e-4;
    options.num_threads = 1;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    ended = summary.termination_type == ceres::CONVERGENCE;
    if (summary.IsSolutionUsable()) return {};
    return "the fit does not come to an end: " + summary.message;
}

}  // namespace

BenchData bench_data(const JointModel& model, const std::vector<BenchDay>& days) {
    BenchData data;
    data.prior = model.prior();
    data.prior_sigma.resize(data.prior.size());
    for (Eigen::Index i = 0; i < data.prior.size(); ++i)
        data.prior_sigma[i] = model.parameters()[static_cast<std::size_t>(i)].sigma;
    std::vector<double> measured, sigma;
    for (const BenchDay& day : days)
        for (const Measurement& m : day.record.measurements) {
            measured.push_back(m.value);
            sigma.push_back(m.sigma);
        }
    const auto count = static_cast<Eigen::Index>(measured.size());
    data.measured = Eigen::Map<const VecX>(measured.data(), count);
    data.sigma = Eigen::Map<const VecX>(sigma.data(), count);
    return data;
}

VecX lower_ends(const JointModel& model, const BenchData& data, const std::vector<int>& which) {
    VecX least(static_cast<Eigen::Index>(which.size()));
    for (std::size_t i = 0; i < which.size(); ++i) {
        double& end = least[static_cast<Eigen::Index>(i)];
        end = -farthest;
        if (model.parameters()[static_cast<std::size_t>(which[i])].relative)
            end = std::max(end, (least_stiffness - 1) * data.prior[which[i]] / data.prior_sigma[which[i]]);
    }
    return least;
}

std::variant<BenchFit, NotFitted> best_fit(const JointModel& model, const BenchData& data,
                                           const std::vector<bool>& fitted, const VecX& x, DayStates start) {
    std::vector<int> which;
    for (std::size_t i = 0; i < fitted.size(); ++i)
        if (fitted[i]) which.push_back(static_cast<int>(i));
    VecX y = x(which);
    constexpr int rounds = 4;
    bool ended = true;
    int solved = 0;
    for (int round = 0;; ++round) {
        start = model.centred(start);
        // With what is not fitted back at the bow file's values the bow may be far from where it was.
        std::optional<Residuals> made(std::in_place, model, data, which, start);
        if (!made->outcome(y)) {
            y.setZero();
            made.emplace(model, data, which, model.start());
        }
        Residuals& residuals = *made;
        if (!which.empty())
            if (const auto why = minimise(residuals, lower_ends(model, data, which), y, ended))
                return NotFitted{*why};
        std::optional<BenchFit> found = residuals.outcome(y);
        solved += residuals.solved();
        if (!found) return NotFitted{"the matched bow could not be solved"};
        found->ended = ended;
        found->solved = solved;
        // Peak weight is read off a parabola: fit again where the peak has walked far from its middle.
        if (round + 1 == rounds || !ended || model.off_centre(found->states) < peak_walk)
            return std::move(*found);
        start = std::move(found->states);
    }
}

}  // namespace limbwright::models
