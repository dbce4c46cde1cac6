#pragma once

#include <cmath>
#include <vector>

#include "solver/numbers/algebra.hpp"
#include "solver/numbers/scalar.hpp"

namespace limbwright::solver {

/// Support function of a groove at one normal direction ψ.
template <class T>
struct SupportAt {
    T H;   ///< ∫₀^ψ h dψ [mm rad]
    T h;   ///< distance of the tangent line from the pole: the lever arm of a cable leaving here [mm]
    T h1;  ///< dh/dψ: distance of the contact point from the pole's foot on the tangent line [mm/rad]
    T h2;  ///< d²h/dψ²
    T h3;  ///< d³h/dψ³
};

/// The groove of a pulley: a plane convex curve, held as its support function h(ψ) about the pole (the axle).
///
///     n = (cos ψ, sin ψ), t = (−sin ψ, cos ψ)
///     contact point        P = h n + h′ t        (dP/dψ = ρ t)
///     radius of curvature  ρ = h + h″ > 0
///     arc length           s = h′ + ∫h dψ
///
/// h is a circle's support, radius + centre·n, plus a cubic spline on uniform knots. An open groove covers
/// [begin, end] only and goes on beyond on the circle of curvature at that end, so that h stays C². ψ counts
/// turns: it need not lie in any one interval of 2π. The pole may lie inside, on or outside the curve.
/// Convexity is the caller's to check, by `smallest_radius_of_curvature`. [mm, rad]
class Groove {
public:
    /// @throws std::invalid_argument unless the radius is positive
    [[nodiscard]] static Groove circle(const Vec2& centre, double radius);

    /// A closed groove, h of period 2π.
    ///
    /// @param values  the spline part of h at ψ = 0, d, 2d, … with d = 2π / their number; interpolated
    /// @throws std::invalid_argument for fewer than four values
    [[nodiscard]] static Groove periodic(double radius, const Vec2& centre,
                                         const std::vector<double>& values);

    /// A groove over begin ≤ ψ ≤ end.
    ///
    /// @param values  the spline part of h at uniform knots, both ends included; interpolated with
    ///                not-a-knot ends, so that h is of fourth order up to the ends
    /// @throws std::invalid_argument for fewer than four values or begin ≥ end
    [[nodiscard]] static Groove open(double radius, const Vec2& centre, double begin, double end,
                                     const std::vector<double>& values);

    /// h, its integral and its derivatives. T offers + − * with itself and with double, and sin, cos; the
    /// interval is chosen by its real part. h3 jumps at the knots.
    template <class T>
    [[nodiscard]] SupportAt<T> at(const T& psi) const;

    /// Length of the curve from one direction to the other, negative if psi_to < psi_from [mm].
    [[nodiscard]] double arc(double psi_from, double psi_to) const;
    /// Where the tangent line with this normal touches, from the pole [mm].
    [[nodiscard]] Vec2 point(double psi) const;
    /// Least ρ over the range that the groove covers [mm]; exact: on each interval ρ is a cubic in ψ, so it
    /// is least at a knot or at a root of a quadratic.
    [[nodiscard]] double smallest_radius_of_curvature() const;

    /// Whether the groove itself, not its continuation, has this normal direction.
    [[nodiscard]] bool covers(double psi) const { return begin_ <= psi && psi <= end_; }
    [[nodiscard]] double begin() const { return begin_; }  ///< −∞ for a closed groove [rad]
    [[nodiscard]] double end() const { return end_; }      ///< +∞ for a closed groove [rad]

    /// The same curve, number by number.
    bool operator==(const Groove&) const = default;

    /// The mirror image in which every point (u, v) goes to (u, −v): h_m(ψ) = h(−ψ).
    [[nodiscard]] Groove mirrored() const;

    /// Normal direction ψ at which the straight run from p touches: n·p = h with sense·(t·p − h′) > 0.
    /// Exact to rounding; at most a bounded number of steps; NaN if p lies inside the curve.
    ///
    /// @param sense  +1: the run leaves along +t, so ψ is about a quarter turn less than the direction of p;
    ///               −1: along −t, a quarter turn more
    /// @return NaN if p lies inside; a closed groove: ψ within π of atan2(p); an open one: ψ of that turn
    /// which is nearest to the
    ///         middle of the range
    [[nodiscard]] double tangent_direction(const Vec2& p, double sense) const;
    /// The same, of that turn which brings ψ nearest to `near` (the last known ψ, say).
    [[nodiscard]] double tangent_direction(const Vec2& p, double sense, double near) const;

private:
    /// h = radius + centre·n, and H = offset + its antiderivative.
    struct Circle {
        double radius = 0;
        Vec2 centre = Vec2::Zero();
        double offset = 0;
        bool operator==(const Circle&) const = default;
    };
    /// Spline part c₀ + c₁u + c₂u² + c₃u³ on one interval, 0 ≤ u ≤ 1, and its integral from knot 0 to here.
    struct Segment {
        double c0, c1, c2, c3, before;
        bool operator==(const Segment&) const = default;
    };

    /// What makes up h about one direction, or in every lane about its own.
    template <class R>
    struct Local {
        R radius, x, y, offset;           ///< circle
        R c0, c1, c2, c3, before, knots;  ///< spline part: segment, integral up to it, knots passed since the
                                          ///< first
    };
    [[nodiscard]] Local<double> local(double psi) const;
    template <class R>
    [[nodiscard]] Local<R> local(const R& psi) const {
        Local<R> all;
        for (int lane = 0; lane < R::width; ++lane) {
            const Local<double> one = local(psi[lane]);
            all.radius.set(lane, one.radius);
            all.x.set(lane, one.x);
            all.y.set(lane, one.y);
            all.offset.set(lane, one.offset);
            all.c0.set(lane, one.c0);
            all.c1.set(lane, one.c1);
            all.c2.set(lane, one.c2);
            all.c3.set(lane, one.c3);
            all.before.set(lane, one.before);
            all.knots.set(lane, one.knots);
        }
        return all;
    }

    Groove(double radius, const Vec2& centre);
    void set_segments(const std::vector<double>& values, const std::vector<double>& bends);
    void start_integral_at_zero();
    [[nodiscard]] Circle continued_from(double psi) const;
    [[nodiscard]] double outside_direction(const Vec2& p, double psi_p) const;
    [[nodiscard]] double tangent_about(const Vec2& p, double sense, double psi_p) const;

    double begin_, end_;     // range; infinite if closed
    double first_knot_ = 0;  // [rad]
    double step_ = 1;        // between knots [rad]
    double per_step_ = 1;    // 1 / step_
    double per_turn_ = 0;    // integral of the spline part over a full turn; closed only
    Circle within_, below_, above_;
    std::vector<Segment> segments_;  // none for a circle
};

inline Groove::Local<double> Groove::local(double psi) const {
    const bool is_below = psi < begin_;
    const bool is_above = psi > end_;
    const Circle& circle = is_below ? below_ : is_above ? above_ : within_;
    Local<double> here{circle.radius, circle.centre.x(), circle.centre.y(), circle.offset, 0, 0, 0, 0, 0, 0};
    if (segments_.empty() || is_below || is_above) return here;
    const double count = static_cast<double>(segments_.size());
    const double x = (psi - first_knot_) * per_step_;
    const double turn = std::isinf(begin_) ? std::floor(x / count) : 0.0;
    const double rest = x - turn * count;
    // rounding can bring `rest` to `count` or just under zero, and a NaN must not become an index
    const double index = rest < count ? std::trunc(rest) : count - 1;
    const Segment& segment = segments_[static_cast<std::size_t>(index)];
    here.c0 = segment.c0;
    here.c1 = segment.c1;
    here.c2 = segment.c2;
    here.c3 = segment.c3;
    here.before = turn * per_turn_ + segment.before;
    here.knots = turn * count + index;
    return here;
}

template <class T>
SupportAt<T> Groove::at(const T& psi) const {
    using std::cos, std::sin;
    const auto f = local(real_part(psi));
    const T s = sin(psi);
    const T c = cos(psi);
    const T along = f.x * c + f.y * s;   // centre·n
    const T across = f.y * c - f.x * s;  // centre·t
    const T u = (psi - first_knot_) * per_step_ - f.knots;
    SupportAt<T> support;
    support.H = (f.offset + f.before) + f.radius * psi - across +
                u * (f.c0 + u * (f.c1 * 0.5 + u * (f.c2 * (1. / 3) + u * (f.c3 * 0.25)))) * step_;
    support.h = f.radius + along + (f.c0 + u * (f.c1 + u * (f.c2 + u * f.c3)));
    support.h1 = across + (f.c1 + u * (2. * f.c2 + u * (3. * f.c3))) * per_step_;
    support.h2 = (2. * f.c2 + u * (6. * f.c3)) * (per_step_ * per_step_) - along;
    support.h3 = 6. * f.c3 * (per_step_ * per_step_ * per_step_) - across;
    return support;
}

}  // namespace limbwright::solver
