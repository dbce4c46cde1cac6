#include "solver/elements/groove.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace limbwright::solver {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// x of x_{j−1} + 4 x_j + x_{j+1} = r_j, where x before the first and after the last is zero and the first
/// and the last diagonal entry is `corner`. Thomas's elimination.
std::vector<double> solve_tridiagonal(std::vector<double> r, double corner) {
    const std::size_t n = r.size();
    std::vector<double> pivot(n, 4.0);
    if (n == 0) return r;
    pivot.front() = corner;
    pivot.back() = corner;
    for (std::size_t j = 1; j < n; ++j) {
        pivot[j] -= 1 / pivot[j - 1];
        r[j] -= r[j - 1] / pivot[j - 1];
    }
    r.back() /= pivot.back();
    for (std::size_t j = n - 1; j-- > 0;) r[j] = (r[j] - r[j + 1]) / pivot[j];
    return r;
}

/// Six times the second difference at the middle of three values.
double bend_load(double a, double b, double c) {
    return 6 * (a - 2 * b + c);
}

/// Second derivatives of the periodic spline, per step², one for each value.
std::vector<double> periodic_bends(const std::vector<double>& y) {
    const std::size_t n = y.size();
    std::vector<double> load(n), closing(n, 0.0);
    for (std::size_t j = 0; j < n; ++j) load[j] = bend_load(y[(j + n - 1) % n], y[j], y[(j + 1) % n]);
    closing.front() = closing.back() = 1;
    // The cyclic matrix is a tridiagonal one with corners 4 − 1, plus v vᵀ with v = (1, 0, …, 0, 1)
    // (Sherman and Morrison).
    std::vector<double> x = solve_tridiagonal(load, 3);
    const std::vector<double> z = solve_tridiagonal(closing, 3);
    const double factor = (x.front() + x.back()) / (1 + z.front() + z.back());
    for (std::size_t j = 0; j < n; ++j) x[j] -= factor * z[j];
    return x;
}

/// Second derivatives of the spline with not-a-knot ends, per step². Its third derivative is the same on both
/// sides of knot 1, so m₀ = 2 m₁ − m₂, which makes the first equation 6 m₁ = load₁; likewise at the end.
std::vector<double> open_bends(const std::vector<double>& y) {
    const std::size_t last = y.size() - 1;
    std::vector<double> m(y.size());
    m[1] = bend_load(y[0], y[1], y[2]) / 6;
    m[last - 1] = bend_load(y[last - 2], y[last - 1], y[last]) / 6;
    std::vector<double> load;
    for (std::size_t j = 2; j + 2 <= last; ++j) load.push_back(bend_load(y[j - 1], y[j], y[j + 1]));
    if (!load.empty()) {
        load.front() -= m[1];
        load.back() -= m[last - 1];
        std::ranges::copy(solve_tridiagonal(load, 4), m.begin() + 2);
    }
    m[0] = 2 * m[1] - m[2];
    m[last] = 2 * m[last - 1] - m[last - 2];
    return m;
}

void require_enough(const std::vector<double>& values) {
    if (values.size() < 4)
        throw std::invalid_argument(
            fmt::format("a groove's spline needs at least four values, but {} were given", values.size()));
}

}  // namespace

Groove::Groove(double radius, const Vec2& centre)
    : begin_(-infinity), end_(infinity), within_{radius, centre, centre.y()} {}

Groove Groove::circle(const Vec2& centre, double radius) {
    if (!(radius > 0 && std::isfinite(radius)))
        throw std::invalid_argument(fmt::format("a groove's radius must be positive, but is {} mm", radius));
    return {radius, centre};
}

Groove Groove::periodic(double radius, const Vec2& centre, const std::vector<double>& values) {
    require_enough(values);
    Groove groove(radius, centre);
    groove.step_ = 2 * pi / static_cast<double>(values.size());
    std::vector<double> closed = values;
    std::vector<double> bends = periodic_bends(values);
    closed.push_back(closed.front());
    bends.push_back(bends.front());
    groove.set_segments(closed, bends);
    return groove;
}

Groove Groove::open(double radius, const Vec2& centre, double begin, double end,
                    const std::vector<double>& values) {
    require_enough(values);
    if (!(begin < end))
        throw std::invalid_argument(
            fmt::format("a groove must begin before it ends, but runs from {} to {} rad", begin, end));
    Groove groove(radius, centre);
    groove.first_knot_ = groove.begin_ = begin;
    groove.end_ = end;
    groove.step_ = (end - begin) / static_cast<double>(values.size() - 1);
    groove.set_segments(values, open_bends(values));
    groove.below_ = groove.continued_from(begin);
    groove.above_ = groove.continued_from(end);
    groove.start_integral_at_zero();
    return groove;
}

void Groove::set_segments(const std::vector<double>& values, const std::vector<double>& bends) {
    per_step_ = 1 / step_;
    double integral = 0;
    for (std::size_t j = 0; j + 1 < values.size(); ++j) {
        const Segment s{values[j], values[j + 1] - values[j] - (2 * bends[j] + bends[j + 1]) / 6,
                        bends[j] / 2, (bends[j + 1] - bends[j]) / 6, integral};
        segments_.push_back(s);
        integral += step_ * (s.c0 + s.c1 / 2 + s.c2 / 3 + s.c3 / 4);
    }
    per_turn_ = integral;
}

void Groove::start_integral_at_zero() {
    const double excess = at(0.0).H;
    for (Circle* circle : {&within_, &below_, &above_}) circle->offset -= excess;
}

/// The circle of curvature at ψ, with H going on from there.
Groove::Circle Groove::continued_from(double psi) const {
    const SupportAt<double> end = at(psi);
    const Vec2 n(std::cos(psi), std::sin(psi));
    const Vec2 t(-n.y(), n.x());
    Circle circle;
    circle.radius = end.h + end.h2;
    circle.centre = -end.h2 * n + end.h1 * t;  // P − ρ n
    circle.offset = end.H - circle.radius * psi + circle.centre.dot(t);
    return circle;
}

double Groove::arc(double psi_from, double psi_to) const {
    const SupportAt<double> from = at(psi_from);
    const SupportAt<double> to = at(psi_to);
    return (to.h1 - from.h1) + (to.H - from.H);
}

Vec2 Groove::point(double psi) const {
    const SupportAt<double> support = at(psi);
    const double c = std::cos(psi);
    const double s = std::sin(psi);
    return {support.h * c - support.h1 * s, support.h * s + support.h1 * c};
}

double Groove::smallest_radius_of_curvature() const {
    if (segments_.empty()) return within_.radius;
    const double curl = per_step_ * per_step_;
    double least = infinity;
    for (const Segment& segment : segments_) {
        const double c0 = segment.c0, c1 = segment.c1, c2 = segment.c2, c3 = segment.c3;
        const double r0 = within_.radius + c0 + 2 * c2 * curl;
        const double r1 = c1 + 6 * c3 * curl;
        const auto rho = [&](double u) { return r0 + u * (r1 + u * (c2 + u * c3)); };
        least = std::min({least, rho(0), rho(1)});
        // the cubic's valley, where 3 c₃ u² + 2 c₂ u + r₁ = 0 and its second derivative is positive
        const double discriminant = c2 * c2 - 3 * c3 * r1;
        if (discriminant <= 0 || (c2 <= 0 && c3 == 0)) continue;
        const double root = std::sqrt(discriminant);
        const double u = c2 > 0 ? -r1 / (c2 + root) : (root - c2) / (3 * c3);
        if (u > 0 && u < 1) least = std::min(least, rho(u));
    }
    return least;
}

Groove Groove::mirrored() const {
    const Vec2 centre(within_.centre.x(), -within_.centre.y());
    if (segments_.empty()) return {within_.radius, centre};
    std::vector<double> values;
    const Segment& last = segments_.back();
    values.push_back(last.c0 + last.c1 + last.c2 + last.c3);
    for (std::size_t j = segments_.size(); j-- > 0;) values.push_back(segments_[j].c0);
    if (std::isfinite(begin_)) return open(within_.radius, centre, -end_, -begin_, values);
    values.front() = values.back();  // h(2π) = h(0)
    values.pop_back();
    return periodic(within_.radius, centre, values);
}

double Groove::tangent_direction(const Vec2& p, double sense) const {
    if (std::isinf(begin_)) return tangent_about(p, sense, std::atan2(p.y(), p.x()));
    return tangent_direction(p, sense, (begin_ + end_) / 2);
}

double Groove::tangent_direction(const Vec2& p, double sense, double near) const {
    const double direction = std::atan2(p.y(), p.x());
    const double expected = near + sense * pi / 2;  // direction of a far p that is touched at `near`
    const double psi_p = direction + 2 * pi * std::round((expected - direction) / (2 * pi));
    const double psi = tangent_about(p, sense, psi_p);
    const double turns = std::round((near - psi) / (2 * pi));
    if (turns == 0 || std::isnan(turns)) return psi;
    if (std::isinf(begin_)) return psi + 2 * pi * turns;
    return tangent_about(p, sense, psi_p + 2 * pi * turns);
}

/// A direction ψ within π of psi_p from whose tangent line p lies outward, f = n·p − h > 0; NaN if there is
/// none, because p lies inside. Needed only where p is close to an elongated curve.
double Groove::outside_direction(const Vec2& p, double psi_p) const {
    const auto f = [&](double psi) { return std::cos(psi) * p.x() + std::sin(psi) * p.y() - at(psi).h; };
    constexpr int samples = 128;
    constexpr double spacing = 2 * pi / samples;
    double best = psi_p;
    for (int i = 0; i < samples; ++i) {
        const double psi = psi_p - pi + (i + 0.5) * spacing;
        if (f(psi) > f(best)) best = psi;
    }
    // f is concave where it is more than −ρ: the sign of its slope halves the interval of its top
    double low = best - spacing;
    double high = best + spacing;
    for (int step = 0; step < 50; ++step) {
        const double psi = (low + high) / 2;
        if (f(psi) > 0) return psi;
        const double slope = std::cos(psi) * p.y() - std::sin(psi) * p.x() - at(psi).h1;
        (slope > 0 ? low : high) = psi;
    }
    return not_a_number;
}

/// The root of f = n·p − h with sense·f′ > 0 near psi_p, a direction of p with its turns.
///
/// With x = sense·ψ the root is where f rises through zero. Because f + f″ = −ρ < 0, f is positive on an
/// interval shorter than π, and f(x) + f(x − π) < 0: from any x with f > 0 half a turn back brackets exactly
/// one root. Newton from the root for a fixed lever arm, bisection where it leaves the bracket. NaN if p lies
/// inside or no root is found.
double Groove::tangent_about(const Vec2& p, double sense, double psi_p) const {
    const double distance = p.norm();
    const double h = at(psi_p).h;
    const double outside = distance > h ? psi_p : outside_direction(p, psi_p);
    if (std::isnan(outside)) return not_a_number;
    double high = sense * outside;
    double low = high - pi;
    double x = distance > std::abs(h) ? sense * psi_p - std::acos(h / distance) : (low + high) / 2;
    for (int step = 0; step < 100; ++step) {
        const double psi = sense * x;
        const double c = std::cos(psi);
        const double s = std::sin(psi);
        const SupportAt<double> support = at(psi);
        const double f = c * p.x() + s * p.y() - support.h;
        const double slope = sense * (c * p.y() - s * p.x() - support.h1);
        (f > 0 ? high : low) = x;
        double next = (low + high) / 2;
        if (slope > 0 && low <= x - f / slope && x - f / slope <= high) next = x - f / slope;
        const double moved = std::abs(next - x);
        x = next;
        // Newton doubles the digits: what is left is below rounding. A bracket that closed on no root, as it
        // may on a curve that is not convex, leaves f. Its scale has h′, for at the axle both others vanish.
        if (moved < 1e-10)
            return std::abs(f) <= 1e-9 * (distance + std::abs(support.h) + std::abs(support.h1))
                       ? sense * x
                       : not_a_number;
    }
    return not_a_number;
}

}  // namespace limbwright::solver
