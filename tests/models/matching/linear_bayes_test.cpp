#include "models/matching/linear_bayes.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace limbwright::models::linear_bayes_test {
namespace {

using solver::MatX;
using solver::VecX;

/// Rounding of sums of a few products of numbers of order one.
constexpr double rounding = 1e-12;

MatX matrix(std::initializer_list<std::initializer_list<double>> rows) {
    MatX A(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(rows.begin()->size()));
    Eigen::Index i = 0;
    for (const auto& row : rows) {
        Eigen::Index j = 0;
        for (const double value : row) A(i, j++) = value;
        ++i;
    }
    return A;
}

TEST(Posterior, OneMeasurementDividesTheVarianceByOnePlusItsSquaredSlope) {
    EXPECT_NEAR(covariance_after(matrix({{3}}))(0, 0), 0.1, rounding);
}

TEST(Posterior, AParameterThatTheDataSeeTooLittleIsNotFitted) {
    EXPECT_EQ(worth_fitting(matrix({{0.9, 2}})), (std::vector<bool>{false, true}));
    EXPECT_EQ(worth_fitting(matrix({{0.9, 0}, {0, 0.9}})), (std::vector<bool>{false, false}));
    EXPECT_EQ(worth_fitting(matrix({{1.1, 0}, {0, 1.1}})), (std::vector<bool>{true, true}));
}

TEST(Posterior, OfTwoThatActAlikeOneIsFittedForBoth) {
    const std::vector<bool> fitted = worth_fitting(matrix({{2, 2}}));
    EXPECT_NE(fitted[0], fitted[1]);
}

TEST(Posterior, ErrorOfAFittedParameterHoldsWhatItTakesOn) {
    // One measurement, both slopes 2: C = 1/5, the other one's error enters by 4/5.
    const std::vector<bool> fitted{true, false};
    EXPECT_NEAR(taken_on(matrix({{2, 2}}), fitted)(0, 0), 0.8, rounding);
    EXPECT_NEAR(error_covariance(matrix({{2, 2}}), fitted)(0, 0), 0.2 + 0.64, rounding);
}

TEST(Posterior, ErrorIsTheJointOneWhereAllAreFitted) {
    const MatX A = matrix({{1, 2}, {3, -1}, {0.5, 0.5}});
    EXPECT_LT((error_covariance(A, {true, true}) - covariance_after(A)).norm(), rounding);
}

/// Errors of the estimate C BᵀY, Y = B f + U u + n, less f, and of zero less u, are linear in f, u, n ~ N(0,
/// I).
TEST(Posterior, ErrorsOfAllHoldWhatThoseNotFittedShareWithTheOthers) {
    const MatX A = matrix({{2, 0.5, 0.3}, {0.4, 3, -0.2}});
    const MatX B = A.leftCols(2), U = A.rightCols(1);
    const MatX estimate = covariance_after(B) * B.transpose();
    MatX L = MatX::Zero(3, 5);
    L.topLeftCorner(2, 2) = estimate * B - MatX::Identity(2, 2);
    L.block(0, 2, 2, 1) = estimate * U;
    L.topRightCorner(2, 2) = estimate;
    L(2, 2) = -1;
    EXPECT_LT((all_errors(A, {true, true, false}) - L * L.transpose()).norm(), rounding);
}

TEST(Posterior, NamesTheDirectionThatNothingSees) {
    const std::vector<AlikeGroup> groups = told_apart_by_nothing(matrix({{5, 0, -10}}));
    ASSERT_EQ(groups.size(), 1);
    EXPECT_EQ(groups[0].members, (std::vector<int>{0, 2}));
    EXPECT_NEAR(groups[0].amounts[0], 2 / std::sqrt(5.), rounding);  // 5 · 2 − 10 · 1 = 0
    EXPECT_NEAR(groups[0].amounts[1], 1 / std::sqrt(5.), rounding);
}

TEST(Posterior, ParametersSeenByMeasurementsOfTheirOwnAreToldApart) {
    EXPECT_TRUE(told_apart_by_nothing(matrix({{5, 0}, {0, 5}})).empty());
}

/// The best fit x of |b + A x|² + |x|², and its residuals.
std::pair<VecX, VecX> best_fit(const MatX& A, const VecX& b) {
    const VecX x = -covariance_after(A) * (A.transpose() * b);
    return {x, b + A * x};
}

TEST(Posterior, CrossCheckIsTheFitWithoutThatMeasurement) {
    const MatX A = matrix({{3, 1}, {2, -1}, {0.5, 2}, {1, 1}});
    const VecX b = VecX{{1, -2, 0.5, 3}};
    const std::vector<CrossCheck> checks = cross_checks(A, best_fit(A, b).second);
    for (int i = 0; i < A.rows(); ++i) {
        MatX others = A;
        VecX rest = b;
        others.row(i).setZero();
        rest[i] = 0;
        const VecX without = best_fit(others, rest).first;
        const double variance = A.row(i) * covariance_after(others) * A.row(i).transpose();
        const CrossCheck& check = checks[static_cast<std::size_t>(i)];
        EXPECT_NEAR(check.others, b[i] + A.row(i).dot(without), rounding);
        EXPECT_NEAR(check.others_sigma, std::sqrt(variance), rounding);
        EXPECT_NEAR(check.normalised, check.others / std::sqrt(1 + variance), rounding);
        EXPECT_NEAR(check.detectable, match_limits::found_mostly * std::sqrt(1 + variance), rounding);
    }
}

TEST(Posterior, NothingChecksAMeasurementThatAloneTellsOfAParameter) {
    const std::vector<CrossCheck> checks = cross_checks(matrix({{1e6}}), VecX::Constant(1, 1e-9));
    EXPECT_EQ(checks[0].normalised, 0);
    EXPECT_TRUE(std::isinf(checks[0].detectable));
}

TEST(Posterior, FindsEveryWrongMeasurementAndNoOther) {
    // Six measurements of one parameter; the second is ten, the fifth minus seven standard deviations off.
    const MatX A = MatX::Constant(6, 1, 10);
    const auto [x, r] = best_fit(A, VecX{{0.5, 10, -0.3, 0.8, -7, -0.6}});
    const std::vector<Contradicting> found = contradicting(A, r, x);
    ASSERT_EQ(found.size(), 2);
    EXPECT_EQ(found[0].measurement, 1);
    EXPECT_EQ(found[1].measurement, 4);
    // Against the four good ones, whose mean is 0.1, but for the small pull of the prior value.
    EXPECT_NEAR(found[1].check.others, -7 - 0.1, 0.02);
}

TEST(Posterior, GoodMeasurementsContradictNothing) {
    const MatX A = MatX::Constant(4, 1, 10);
    const auto [x, r] = best_fit(A, VecX{{0.5, 1.2, -0.3, -1.8}});
    EXPECT_TRUE(contradicting(A, r, x).empty());
}

TEST(Posterior, RanksMeasurementsByTheVarianceThatTheyTakeAway) {
    const std::vector<Worth> ranked = worth_measuring(matrix({{3, 0}}), matrix({{1, 0}, {0, 1}}));
    ASSERT_EQ(ranked.size(), 2);
    EXPECT_EQ(ranked[0].row, 1);
    EXPECT_EQ(ranked[0].parameter, 1);
    EXPECT_NEAR(ranked[0].lessens, 0.5 / 1.1, rounding);  // variances 0.1 and 1; the second is halved
    EXPECT_NEAR(ranked[0].before, 1, rounding);
    EXPECT_NEAR(ranked[0].after, std::sqrt(0.5), rounding);
}

}  // namespace
}  // namespace limbwright::models::linear_bayes_test
