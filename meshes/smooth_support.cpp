#include "meshes/smooth_support.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace limbwright::meshes {

using solver::MatX;

namespace {

Groove with_spline(const SupportRange& range, const BaseCircle& base, const VecX& values) {
    const std::vector<double> list(values.data(), values.data() + values.size());
    return range.closed ? Groove::periodic(base.radius, base.centre, list)
                        : Groove::open(base.radius, base.centre, range.begin, range.end, list);
}

}  // namespace

int knots_for(std::size_t data, const SupportRange& range) {
    constexpr double turn = 2 * std::numbers::pi;
    constexpr double knots_per_turn = 120;
    const double sweep = range.closed ? turn : range.end - range.begin;
    const double finest = knots_per_turn * sweep / turn;
    return std::max(6, static_cast<int>(std::lround(std::min(0.75 * static_cast<double>(data), finest))));
}

SupportFit::SupportFit(const SupportRange& range, const BaseCircle& base, int knots,
                       std::span<const double> directions, std::span<const double> distances)
    : range_(range), base_(base), distances_(distances.size()) {
    const Eigen::Index rows = static_cast<Eigen::Index>(directions.size());
    const int intervals = range.closed ? knots : knots - 1;
    const double begin = range.closed ? 0.0 : range.begin;
    const double sweep = range.closed ? 2 * std::numbers::pi : range.end - range.begin;
    fit_.resize(rows, knots);
    roughness_.resize(intervals, knots);
    for (int k = 0; k < knots; ++k) {
        const Groove unit = with_spline(range, {}, VecX::Unit(knots, k));
        for (Eigen::Index i = 0; i < rows; ++i) fit_(i, k) = unit.at(directions[i]).h;
        for (int j = 0; j < intervals; ++j) {
            const solver::SupportAt<double> middle = unit.at(begin + (j + 0.5) * sweep / intervals);
            roughness_(j, k) = middle.h1 + middle.h3;
        }
    }
    for (Eigen::Index i = 0; i < rows; ++i) {
        const Vec2 n(std::cos(directions[i]), std::sin(directions[i]));
        distances_[i] = distances[i] - base.radius - base.centre.dot(n);
    }
    fit_ /= std::sqrt(static_cast<double>(rows));
    distances_ /= std::sqrt(static_cast<double>(rows));
    roughness_ /= std::sqrt(static_cast<double>(intervals));
    fit_normal_ = fit_.transpose() * fit_;
    rough_normal_ = roughness_.transpose() * roughness_;
}

MatX SupportFit::normal_matrix(double weight) const {
    return fit_normal_ + weight * weight * rough_normal_;
}

double SupportFit::best_weight() const {
    const VecX load = fit_.transpose() * distances_;
    double best = least_weight;
    double best_score = std::numeric_limits<double>::infinity();
    for (double weight = least_weight; weight < largest_weight; weight *= weight_ratio) {
        const Eigen::LDLT<MatX> normal(normal_matrix(weight));
        const double residual = (fit_ * normal.solve(load) - distances_).squaredNorm();
        const double free = 1 - normal.solve(fit_normal_).trace() / static_cast<double>(fit_.rows());
        const double score = residual / (free * free);
        if (score < best_score) {
            best_score = score;
            best = weight;
        } else if (score > 4 * best_score) {
            break;  // past the valley: what is left only smooths more
        }
    }
    return best;
}

Groove SupportFit::groove(double weight) const {
    const VecX load = fit_.transpose() * distances_;
    return with_spline(range_, base_, normal_matrix(weight).ldlt().solve(load));
}

}  // namespace limbwright::meshes
