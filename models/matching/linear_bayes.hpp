#pragma once

#include <vector>

#include "solver/numbers/algebra.hpp"

/// What measurements tell of parameters, to first order, by Bayes' rule for normal distributions.
///
/// Everything is scaled: parameters to standard deviations of their prior value, x ~ N(0, I), measurements to
/// their own, so that residuals are model − measured = r + A (x − x̂) with errors ~ N(0, I).
namespace limbwright::models {

/// Limits of what is said about a match.
namespace match_limits {
/// A parameter is seen if the data take away at least this share of its prior variance.
inline constexpr double seen_share = 0.5;
/// Parameters whose errors correlate at least so much cannot be told apart.
inline constexpr double alike = 0.8;
/// Parts of a combination below this share of its largest part are not named, nor what a fitted parameter
/// takes on from another below this share of its prior standard deviation.
inline constexpr double named = 0.25;
/// Standard deviations of the normalised residual beyond which a measurement contradicts the others: one good
/// one in a thousand is accused [Baarda 1968, A testing procedure for use in geodetic networks].
inline constexpr double contradiction = 3.29;
/// Normalised size of an error that this test finds four times of five: 3.29 + 0.84.
inline constexpr double found_mostly = 4.13;
}  // namespace match_limits

/// Covariance of the parameters after the measurements, C = (I + AᵀA)⁻¹.
[[nodiscard]] solver::MatX covariance_after(const solver::MatX& A);

/// Which parameters to fit so that each that is fitted is seen while those that are not stay at their prior
/// value: the least seen is taken out, one by one, until the data take away `seen_share` of the variance of
/// each that is left. Of two parameters that cannot be told apart one stays and stands for both.
[[nodiscard]] std::vector<bool> worth_fitting(const solver::MatX& A);

/// Covariance of the errors of the fitted parameters, in their order, where the others stay at their prior
/// value but are no surer than that:
///
///     P = C + C BᵀU UᵀB C,   C = (I + BᵀB)⁻¹,
///
/// B and U the columns of A of the fitted and of the other parameters [Schmidt 1966, Application of
/// state-space methods to navigation problems: consider parameters].
[[nodiscard]] solver::MatX error_covariance(const solver::MatX& A, const std::vector<bool>& fitted);

/// What the fitted parameters take on from the others: G = C BᵀU as above, one row for each fitted parameter,
/// one column for each other one. Were the true value of other parameter j one prior standard deviation up,
/// fitted parameter i would come out G_ij of its own too far up.
[[nodiscard]] solver::MatX taken_on(const solver::MatX& A, const std::vector<bool>& fitted);

/// Covariance of the errors of all parameters, those that are not fitted among them: with F the fitted ones'
/// places and U the others', P as above in F, F; −G in F, U; the identity in U, U, for a parameter at its
/// prior value errs by just what the fitted ones take on.
[[nodiscard]] solver::MatX all_errors(const solver::MatX& A, const std::vector<bool>& fitted);

/// Parameters whose errors correlate, directly or through each other.
struct AlikeGroup {
    std::vector<int> members;     ///< rising
    std::vector<double> amounts;  ///< change of each, in its prior standard deviations, that the measurements
                                  ///< together see least: the group's direction of largest variance, of
                                  ///< length one; its largest part positive
};
[[nodiscard]] std::vector<AlikeGroup> told_apart_by_nothing(const solver::MatX& A);

/// A measurement against what all others and the prior values say.
struct CrossCheck {
    double normalised = 0;  ///< residual over its own standard deviation if all is well; 0 where nothing else
                            ///< tells of the measurement
    double others = 0;      ///< what the others say less what was measured, in its standard deviations
    double others_sigma = 0;  ///< standard deviation of what the others say, in the same
    double detectable = 0;    ///< error that would be found four times of five, in the same
};
/// With residuals r at the parameters that fit best.
[[nodiscard]] std::vector<CrossCheck> cross_checks(const solver::MatX& A, const solver::VecX& r,
                                                   const std::vector<bool>& left_out = {});

/// Measurements that contradict the rest: the worst is taken out, the others fitted anew, and so on until
/// none is beyond `contradiction` (data snooping, as above).
struct Contradicting {
    int measurement = 0;
    CrossCheck check;  ///< against those that are not taken out yet
};
[[nodiscard]] std::vector<Contradicting> contradicting(const solver::MatX& A, const solver::VecX& r,
                                                       const solver::VecX& x);

/// What one more measurement would tell.
struct Worth {
    int row = 0;                   ///< of the candidates
    double lessens = 0;            ///< share of the sum of all parameters' variances that it takes away
    int parameter = 0;             ///< whose variance it lessens most
    double before = 0, after = 0;  ///< standard deviation of that parameter
};
/// Best first.
///
/// @param candidates  scaled slopes of the measurements that could be made, one row each
[[nodiscard]] std::vector<Worth> worth_measuring(const solver::MatX& A, const solver::MatX& candidates);

}  // namespace limbwright::models
