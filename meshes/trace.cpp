#include "meshes/trace.hpp"

#include <fmt/core.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

namespace limbwright::meshes {

using solver::MatX;
using solver::VecX;

namespace {

constexpr std::size_t fewest_points = 8;

}  // namespace

double cross(const Vec2& a, const Vec2& b) {
    return a.x() * b.y() - a.y() * b.x();
}

std::string name(const TracedPoint& point) {
    return fmt::format("point {} at ({:.2f}, {:.2f}) mm", point.number, point.position.x(),
                       point.position.y());
}

Trace numbered(std::span<const Vec2> points) {
    if (points.size() < fewest_points)
        throw std::invalid_argument(
            fmt::format("only {} points: at least {} are wanted, better one every few "
                        "degrees round the groove",
                        points.size(), fewest_points));
    Trace trace;
    for (const Vec2& point : points) {
        trace.push_back({point, static_cast<int>(trace.size()) + 1});
        if (!point.allFinite()) throw std::invalid_argument(name(trace.back()) + " is not a pair of numbers");
    }
    return trace;
}

BaseCircle nearest_circle(const Trace& trace) {
    const Eigen::Index rows = static_cast<Eigen::Index>(trace.size());
    MatX matrix(rows, 3);
    VecX load(rows);
    for (Eigen::Index i = 0; i < rows; ++i) {
        const Vec2& p = trace[i].position;
        matrix.row(i) << 2 * p.x(), 2 * p.y(), 1;
        load[i] = p.squaredNorm();
    }
    Eigen::ColPivHouseholderQR<MatX> qr(matrix);
    qr.setThreshold(1e-9);
    if (qr.rank() < 3)
        throw std::invalid_argument(
            "the points lie on a straight line: points round a convex groove are wanted");
    const VecX solution = qr.solve(load);
    const Vec2 centre = solution.head<2>();
    return {centre, std::sqrt(solution[2] + centre.squaredNorm())};
}

std::vector<double> rising_directions(Trace& trace, const Vec2& centre) {
    const auto step = [&](std::size_t i) {
        const Vec2 from = trace[i - 1].position - centre;
        const Vec2 to = trace[i].position - centre;
        return std::atan2(cross(from, to), from.dot(to));
    };
    double sweep = 0;
    for (std::size_t i = 1; i < trace.size(); ++i) sweep += step(i);
    const bool turned_round = sweep < 0;
    if (turned_round) std::ranges::reverse(trace);

    const Vec2 first = trace.front().position - centre;
    std::vector<double> directions{std::atan2(first.y(), first.x())};
    // Noise may take a point back a little; nothing depends on the order of such close neighbours.
    constexpr double harmless = 3 * degree;
    for (std::size_t i = 1; i < trace.size(); ++i) {
        if (step(i) < -harmless) {
            const auto& [before, after] =
                turned_round ? std::pair(trace[i], trace[i - 1]) : std::pair(trace[i - 1], trace[i]);
            throw std::invalid_argument(fmt::format(
                "{} goes back by {:.0f} deg from point {}: the points must be in order round the groove",
                name(after), -step(i) / degree, before.number));
        }
        directions.push_back(directions.back() + step(i));
    }
    return directions;
}

bool goes_all_round(const Trace& trace, double sweep) {
    double longest = 0;
    for (std::size_t i = 1; i < trace.size(); ++i)
        longest = std::max(longest, (trace[i].position - trace[i - 1].position).norm());
    const double gap = (trace.front().position - trace.back().position).norm();
    return gap <= 2 * longest && sweep > 1.5 * pi && sweep < 2.2 * pi;
}

std::vector<double> guessed_normals(const Trace& trace, const std::vector<double>& directions, bool closed) {
    const int count = static_cast<int>(trace.size());
    const int reach = std::max(1, count / 40);
    std::vector<double> normals(trace.size());
    for (int i = 0; i < count; ++i) {
        if (!closed && (i < reach || i >= count - reach)) continue;
        const Vec2 chord = trace[(i + reach) % count].position - trace[(i - reach + count) % count].position;
        const double normal = std::atan2(-chord.x(), chord.y());
        normals[i] = directions[i] + std::remainder(normal - directions[i], 2 * pi);
    }
    if (closed) return normals;
    const double first_slope = (normals[2 * reach] - normals[reach]) / reach;
    const double last_slope = (normals[count - 1 - reach] - normals[count - 1 - 2 * reach]) / reach;
    for (int i = 0; i < reach; ++i) {
        normals[i] = normals[reach] - (reach - i) * first_slope;
        normals[count - 1 - i] = normals[count - 1 - reach] + (reach - i) * last_slope;
    }
    return normals;
}

void refuse_dents(const Trace& trace, const Vec2& centre, bool closed, double allowed) {
    const std::size_t count = trace.size();
    std::size_t start = 0;
    if (closed) {  // the farthest point is on the hull for sure
        for (std::size_t i = 1; i < count; ++i)
            if ((trace[i].position - centre).norm() > (trace[start].position - centre).norm()) start = i;
    }
    const auto point = [&](std::size_t i) -> const TracedPoint& { return trace[(start + i) % count]; };
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < count + (closed ? 1 : 0); ++i) {
        const auto turns_outward = [&] {
            const Vec2& b = point(kept.back()).position;
            return cross(b - point(kept[kept.size() - 2]).position, point(i).position - b) <= 0;
        };
        while (kept.size() > 1 && turns_outward()) kept.pop_back();
        kept.push_back(i);
    }
    double deepest = 0;
    std::string complaint;
    for (std::size_t k = 1; k < kept.size(); ++k) {
        const TracedPoint& from = point(kept[k - 1]);
        const TracedPoint& to = point(kept[k]);
        const Vec2 along = (to.position - from.position).normalized();
        for (std::size_t i = kept[k - 1] + 1; i < kept[k]; ++i) {
            const double depth = cross(along, point(i).position - from.position);
            if (depth <= deepest) continue;
            deepest = depth;
            complaint = fmt::format(
                "{} lies {:.2f} mm inside the line from point {} to point {}: the groove must be "
                "convex",
                name(point(i)), depth, std::min(from.number, to.number), std::max(from.number, to.number));
        }
    }
    if (deepest > allowed) throw std::invalid_argument(complaint);
}

}  // namespace limbwright::meshes
