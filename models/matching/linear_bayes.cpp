#include "models/matching/linear_bayes.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::VecX;

/// Below this a measurement's residual holds rounding only: nothing but itself tells of it.
constexpr double no_check = 1e-9;

std::vector<int> chosen(const std::vector<bool>& flags, bool value) {
    std::vector<int> places;
    for (std::size_t i = 0; i < flags.size(); ++i)
        if (flags[i] == value) places.push_back(static_cast<int>(i));
    return places;
}

MatX columns(const MatX& A, const std::vector<int>& places) {
    MatX some(A.rows(), static_cast<Eigen::Index>(places.size()));
    for (std::size_t i = 0; i < places.size(); ++i) some.col(static_cast<Eigen::Index>(i)) = A.col(places[i]);
    return some;
}

/// Marks what hangs together with one parameter.
void spread(const MatX& C, int from, int group, std::vector<int>& groups) {
    groups[static_cast<std::size_t>(from)] = group;
    for (int j = 0; j < C.cols(); ++j) {
        const double correlation = C(from, j) / std::sqrt(C(from, from) * C(j, j));
        if (groups[static_cast<std::size_t>(j)] < 0 && std::abs(correlation) >= match_limits::alike)
            spread(C, j, group, groups);
    }
}

}  // namespace

MatX covariance_after(const MatX& A) {
    const MatX identity = MatX::Identity(A.cols(), A.cols());
    return Eigen::LLT<MatX>(identity + A.transpose() * A).solve(identity);
}

std::vector<bool> worth_fitting(const MatX& A) {
    std::vector<bool> fitted(static_cast<std::size_t>(A.cols()), true);
    for (;;) {
        const std::vector<int> left = chosen(fitted, true);
        if (left.empty()) return fitted;
        const VecX variance = covariance_after(columns(A, left)).diagonal();
        Eigen::Index worst = 0;
        if (1 - variance.maxCoeff(&worst) >= match_limits::seen_share) return fitted;
        fitted[static_cast<std::size_t>(left[static_cast<std::size_t>(worst)])] = false;
    }
}

MatX taken_on(const MatX& A, const std::vector<bool>& fitted) {
    const MatX B = columns(A, chosen(fitted, true)), U = columns(A, chosen(fitted, false));
    return covariance_after(B) * (B.transpose() * U);
}

MatX error_covariance(const MatX& A, const std::vector<bool>& fitted) {
    const MatX G = taken_on(A, fitted);
    return covariance_after(columns(A, chosen(fitted, true))) + G * G.transpose();
}

MatX all_errors(const MatX& A, const std::vector<bool>& fitted) {
    const std::vector<int> F = chosen(fitted, true), U = chosen(fitted, false);
    const MatX G = taken_on(A, fitted);
    MatX errors = MatX::Identity(A.cols(), A.cols());
    errors(F, F) = error_covariance(A, fitted);
    errors(F, U) = -G;
    errors(U, F) = -G.transpose();
    return errors;
}

std::vector<AlikeGroup> told_apart_by_nothing(const MatX& A) {
    const MatX C = covariance_after(A);
    std::vector<int> groups(static_cast<std::size_t>(A.cols()), -1);
    int count = 0;
    for (int i = 0; i < A.cols(); ++i)
        if (groups[static_cast<std::size_t>(i)] < 0) spread(C, i, count++, groups);
    std::vector<AlikeGroup> found;
    for (int g = 0; g < count; ++g) {
        AlikeGroup group;
        for (int i = 0; i < A.cols(); ++i)
            if (groups[static_cast<std::size_t>(i)] == g) group.members.push_back(i);
        if (group.members.size() < 2) continue;
        const int n = static_cast<int>(group.members.size());
        MatX own(n, n);
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j)
                own(i, j) =
                    C(group.members[static_cast<std::size_t>(i)], group.members[static_cast<std::size_t>(j)]);
        VecX direction = Eigen::SelfAdjointEigenSolver<MatX>(own).eigenvectors().col(n - 1);
        Eigen::Index largest = 0;
        direction.cwiseAbs().maxCoeff(&largest);
        if (direction[largest] < 0) direction = -direction;
        group.amounts.assign(direction.data(), direction.data() + n);
        found.push_back(std::move(group));
    }
    return found;
}

std::vector<CrossCheck> cross_checks(const MatX& A, const VecX& r, const std::vector<bool>& left_out) {
    MatX kept = A;
    for (std::size_t i = 0; i < left_out.size(); ++i)
        if (left_out[i]) kept.row(static_cast<Eigen::Index>(i)).setZero();
    const MatX C = covariance_after(kept);
    std::vector<CrossCheck> checks;
    for (int i = 0; i < A.rows(); ++i) {
        const bool out = !left_out.empty() && left_out[static_cast<std::size_t>(i)];
        const double known = A.row(i) * C * A.row(i).transpose();
        // Variance of the residual at the best fit; that of a measurement left out adds instead.
        const double variance = out ? 1 + known : 1 - known;
        CrossCheck check;
        if (variance > no_check) {
            check.normalised = r[i] / std::sqrt(variance);
            check.others = out ? r[i] : r[i] / variance;
            check.others_sigma = std::sqrt(std::max(0.0, out ? known : 1 / variance - 1));
            check.detectable = match_limits::found_mostly * std::sqrt(out ? variance : 1 / variance);
        } else {
            check.others_sigma = check.detectable = HUGE_VAL;
        }
        checks.push_back(check);
    }
    return checks;
}

std::vector<Contradicting> contradicting(const MatX& A, const VecX& r, const VecX& x) {
    std::vector<Contradicting> found;
    std::vector<bool> out(static_cast<std::size_t>(A.rows()), false);
    VecX residual = r;
    for (;;) {
        const std::vector<CrossCheck> checks = cross_checks(A, residual, out);
        int worst = -1;
        for (int i = 0; i < A.rows(); ++i) {
            const std::size_t k = static_cast<std::size_t>(i);
            if (!out[k] && (worst < 0 || std::abs(checks[k].normalised) >
                                             std::abs(checks[static_cast<std::size_t>(worst)].normalised)))
                worst = i;
        }
        if (worst < 0) return found;
        const CrossCheck& check = checks[static_cast<std::size_t>(worst)];
        if (std::abs(check.normalised) <= match_limits::contradiction) return found;
        found.push_back({worst, check});
        out[static_cast<std::size_t>(worst)] = true;
        // The rest fitted anew: minimum of |r + A (y − x)|² over the rows that are left, + |y|².
        MatX kept = A;
        VecX wanted = A * x - r;
        for (int i = 0; i < A.rows(); ++i)
            if (out[static_cast<std::size_t>(i)]) kept.row(i).setZero(), wanted[i] = 0;
        const VecX y = covariance_after(kept) * (kept.transpose() * wanted);
        residual = r + A * (y - x);
    }
}

std::vector<Worth> worth_measuring(const MatX& A, const MatX& candidates) {
    const MatX C = covariance_after(A);
    std::vector<Worth> all;
    for (int k = 0; k < candidates.rows(); ++k) {
        const VecX g = C * candidates.row(k).transpose();
        const double variance = 1 + candidates.row(k).dot(g);
        const VecX less = g.cwiseAbs2() / variance;
        Worth worth;
        worth.row = k;
        worth.lessens = less.sum() / C.trace();
        Eigen::Index most = 0;
        less.maxCoeff(&most);
        worth.parameter = static_cast<int>(most);
        worth.before = std::sqrt(C(most, most));
        worth.after = std::sqrt(C(most, most) - less[most]);
        all.push_back(worth);
    }
    std::ranges::stable_sort(all, std::ranges::greater{}, &Worth::lessens);
    return all;
}

}  // namespace limbwright::models
