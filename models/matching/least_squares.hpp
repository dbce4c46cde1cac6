#pragma once

#include <variant>
#include <vector>

#include "models/matching/joint_forward_model.hpp"

/// The least-squares problem of a match.
namespace limbwright::models {

/// Scales, measured numbers and prior values, inside units.
struct BenchData {
    solver::VecX prior, prior_sigma;  ///< of the parameters
    solver::VecX measured, sigma;     ///< of the measurements, day by day

    /// Scaled slopes: measurements' standard deviations per parameters'.
    [[nodiscard]] solver::MatX scaled(const solver::MatX& slopes) const {
        return sigma.cwiseInverse().asDiagonal() * slopes * prior_sigma.asDiagonal();
    }
};

/// Of all that was measured on these days.
[[nodiscard]] BenchData bench_data(const JointModel& model, const std::vector<BenchDay>& days);

/// The best parameters, scaled.
struct BenchFit {
    solver::VecX x;  ///< changes from the prior values, of all parameters
    solver::VecX r;  ///< residuals of the measurements
    DayStates states;
    bool ended = true;  ///< the fit came to an end
    int solved = 0;     ///< sets of parameters tried
};

struct NotFitted {
    std::string reason;
};

/// How far parameters are tried: prior standard deviations from the bow file's value, and the least share of
/// a stiffness. Where a fit wants to go beyond, something else is wrong.
inline constexpr double farthest = 8, least_stiffness = 0.25;

/// Lower ends of such parameters, scaled.
[[nodiscard]] solver::VecX lower_ends(const JointModel& model, const BenchData& data,
                                      const std::vector<int>& which);

/// Least sum of squares of residuals and prior changes over the fitted parameters, by Levenberg and
/// Marquardt's method; the others stay at the bow file's values.
///
/// @param x  where to start, of all parameters
/// @param start  states thereabouts
[[nodiscard]] std::variant<BenchFit, NotFitted> best_fit(const JointModel& model, const BenchData& data,
                                                         const std::vector<bool>& fitted,
                                                         const solver::VecX& x, DayStates start);

}  // namespace limbwright::models
