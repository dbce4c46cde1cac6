#include "meshes/curve_fit.hpp"

#include <fmt/core.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "meshes/smooth_support.hpp"
#include "meshes/trace.hpp"

namespace limbwright::meshes {

using solver::MatX;
using solver::SupportAt;

namespace {

constexpr std::size_t fewest_rows = 8;

Vec2 normal(double psi) {
    return {std::cos(psi), std::sin(psi)};
}

/// The ψ at which the groove passes closest to p: t·p = h′, by Newton, whose slope is kept away from zero.
double closest_direction(const Groove& groove, const Vec2& p, double psi, double size) {
    for (int step = 0; step < 20; ++step) {
        const SupportAt<double> support = groove.at(psi);
        const Vec2 n = normal(psi);
        const double off = cross(n, p) - support.h1;
        const double change = off / std::max(n.dot(p) + support.h2, 0.2 * size);
        psi += std::clamp(change, -0.3, 0.3);
        if (std::abs(change) < 1e-13) break;
    }
    return psi;
}

/// Turns an open range by whole turns so that its middle lies within half a turn of zero.
void bring_near_zero(std::vector<double>& psi) {
    const double middle = (psi.front() + psi.back()) / 2;
    const double shift = 2 * pi * std::round(middle / (2 * pi));
    for (double& direction : psi) direction -= shift;
}

/// Fits and finds closest points in turn: Gauss-Newton, because n·P − h does not change with ψ to first
/// order.
class TraceFit {
public:
    TraceFit(const Trace& trace, const BaseCircle& base, bool closed, std::vector<double> normals)
        : trace_(trace),
          base_(base),
          closed_(closed),
          psi_(std::move(normals)),
          knots_(knots_for(psi_.size(), range())) {}

    /// Lets the directions settle and returns the weight that cross-validation chooses. Starts stiff: an open
    /// end's direction and a limp curve's slope there would drive each other away.
    double settle() {
        double weight = 1e-2;
        for (double limit = weight; limit >= least_weight; limit /= 10) {
            const SupportFit fit = fit_now();
            weight = std::max(limit, fit.best_weight());
            project(fit.groove(weight));
        }
        return weight;
    }

    /// The convex groove that this weight gives; none if it is not convex or the directions do not settle,
    /// and then they are left as they were.
    std::optional<Groove> fitted(double weight) {
        const std::vector<double> before = psi_;
        constexpr double settled = 1e-7;  // its square is what h still errs by, relative to ρ
        for (int round = 0; round < 60; ++round) {
            const Groove groove = fit_now().groove(weight);
            if (project(groove) > settled) continue;
            if (groove.smallest_radius_of_curvature() > 0) return groove;
            break;
        }
        psi_ = before;
        return std::nullopt;
    }

    /// Distance of a point from the curve.
    double misfit(const Groove& groove, std::size_t i) const {
        return std::abs(normal(psi_[i]).dot(trace_[i].position) - groove.at(psi_[i]).h);
    }

private:
    SupportRange range() const {
        const auto [first, last] = std::ranges::minmax(psi_);
        return {first, last, closed_};
    }

    SupportFit fit_now() const {
        std::vector<double> distances;
        for (std::size_t i = 0; i < psi_.size(); ++i)
            distances.push_back(normal(psi_[i]).dot(trace_[i].position));
        return {range(), base_, knots_, psi_, distances};
    }

    /// The largest change of a direction.
    double project(const Groove& groove) {
        double largest = 0;
        for (std::size_t i = 0; i < psi_.size(); ++i) {
            const double psi = closest_direction(groove, trace_[i].position, psi_[i], base_.radius);
            largest = std::max(largest, std::abs(psi - psi_[i]));
            psi_[i] = psi;
        }
        return largest;
    }

    const Trace& trace_;
    BaseCircle base_;
    bool closed_;
    std::vector<double> psi_;
    int knots_;  // chosen once: a change of their number would move the curve between rounds
};

struct SupportTable {
    std::span<const double> directions, distances;
    SupportRange range;
};

/// A table in order and finite, and what it covers. A last row that repeats the first is left out.
SupportTable checked_table(std::span<const double> directions, std::span<const double> distances,
                           double allowed_misfit) {
    const std::size_t rows = directions.size();
    if (rows != distances.size())
        throw std::invalid_argument(
            fmt::format("{} directions, but {} distances: one distance for every direction is wanted", rows,
                        distances.size()));
    if (rows < fewest_rows)
        throw std::invalid_argument(fmt::format(
            "only {} rows: at least {} are wanted, better one every few degrees", rows, fewest_rows));
    double widest = 0;
    for (std::size_t i = 0; i < rows; ++i) {
        if (!std::isfinite(directions[i]) || !std::isfinite(distances[i]))
            throw std::invalid_argument(fmt::format("row {} is not a pair of numbers", i + 1));
        if (i == 0) continue;
        const double step = directions[i] - directions[i - 1];
        if (!(step > 0))
            throw std::invalid_argument(
                fmt::format("row {}: the direction {} rad does not rise from {} rad in the "
                            "row before: rising directions are wanted",
                            i + 1, directions[i], directions[i - 1]));
        widest = std::max(widest, step);
    }
    const double sweep = directions.back() - directions.front();
    const double gap = 2 * pi - sweep;
    if (gap < -0.25 * widest)
        throw std::invalid_argument(
            fmt::format("the directions cover {:.4g} rad, more than a full turn (6.2832 rad): "
                        "radians are wanted, a full turn at most",
                        sweep));
    if (gap > 1.5 * widest) return {directions, distances, {directions.front(), directions.back(), false}};
    if (gap > 0.25 * widest) return {directions, distances, {.closed = true}};
    if (std::abs(distances.back() - distances.front()) > allowed_misfit)
        throw std::invalid_argument(fmt::format(
            "the last row is a full turn after the first, but its distance is {:.3f} mm and not {:.3f} mm",
            distances.back(), distances.front()));
    return {directions.first(rows - 1), distances.first(rows - 1), {.closed = true}};
}

/// The circle whose h = r + c·n is nearest to the table.
BaseCircle nearest_base(std::span<const double> directions, std::span<const double> distances) {
    const Eigen::Index rows = static_cast<Eigen::Index>(directions.size());
    MatX matrix(rows, 3);
    VecX load(rows);
    for (Eigen::Index i = 0; i < rows; ++i) {
        const Vec2 n = normal(directions[i]);
        matrix.row(i) << n.x(), n.y(), 1;
        load[i] = distances[i];
    }
    const VecX solution = matrix.colPivHouseholderQr().solve(load);
    return {solution.head<2>(), solution[2]};
}

}  // namespace

FittedGroove fit_traced(std::span<const Vec2> points, const FitOptions& options) {
    Trace trace = numbered(points);
    const BaseCircle base = nearest_circle(trace);
    std::vector<double> directions = rising_directions(trace, base.centre);
    const double sweep = directions.back() - directions.front();
    const bool closed = options.closed.value_or(goes_all_round(trace, sweep));
    if (closed && !(sweep > pi && sweep < 2.2 * pi))
        throw std::invalid_argument(
            fmt::format("the points go round by {:.0f} deg: a closed groove's points must go "
                        "round once",
                        sweep / degree));
    refuse_dents(trace, base.centre, closed, options.allowed_misfit);
    bring_near_zero(directions);

    TraceFit fit(trace, base, closed, guessed_normals(trace, directions, closed));
    double weight = fit.settle();
    std::optional<Groove> groove = fit.fitted(weight);
    while (!groove && weight < largest_weight) groove = fit.fitted(weight *= weight_ratio);
    if (!groove)
        throw std::invalid_argument(
            "no smooth convex groove passes near the points: points in order round one "
            "convex groove are wanted");

    double largest = 0;
    double sum = 0;
    std::size_t farthest = 0;
    for (std::size_t i = 0; i < trace.size(); ++i) {
        const double distance = fit.misfit(*groove, i);
        sum += distance * distance;
        if (distance > largest) farthest = i;
        largest = std::max(largest, distance);
    }
    if (largest > options.allowed_misfit)
        throw std::invalid_argument(
            fmt::format("{} lies {:.2f} mm from the nearest smooth convex curve, where "
                        "{:.2f} mm are allowed: check the point and its neighbours",
                        name(trace[farthest]), largest, options.allowed_misfit));
    return {*groove, largest, std::sqrt(sum / static_cast<double>(trace.size()))};
}

Groove groove_from_support(std::span<const double> directions, std::span<const double> distances,
                           double allowed_misfit) {
    const SupportTable table = checked_table(directions, distances, allowed_misfit);
    const std::size_t rows = table.directions.size();
    const SupportFit fit(table.range, nearest_base(table.directions, table.distances),
                         knots_for(rows, table.range), table.directions, table.distances);
    double weight = fit.best_weight();
    Groove groove = fit.groove(weight);
    while (groove.smallest_radius_of_curvature() <= 0 && weight < largest_weight) {
        weight *= weight_ratio;
        groove = fit.groove(weight);
    }
    double largest = 0;
    std::size_t farthest = 0;
    for (std::size_t i = 0; i < rows; ++i) {
        const double misfit = std::abs(groove.at(directions[i]).h - distances[i]);
        if (!(misfit <= largest)) farthest = i;
        largest = std::max(largest, misfit);
    }
    if (!(largest <= allowed_misfit && groove.smallest_radius_of_curvature() > 0))
        throw std::invalid_argument(fmt::format(
            "row {} (direction {:.4f} rad, distance {:.3f} mm) is {:.3f} mm off the nearest smooth convex "
            "curve, where {:.3f} mm are allowed: h + h'' must be positive everywhere",
            farthest + 1, directions[farthest], distances[farthest], largest, allowed_misfit));
    return groove;
}

}  // namespace limbwright::meshes
