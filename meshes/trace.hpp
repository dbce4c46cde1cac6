#pragma once

#include <numbers>
#include <span>
#include <string>
#include <vector>

#include "solver/numbers/algebra.hpp"

/// Points traced round a convex curve: put in order and checked. Every function that refuses throws
/// std::invalid_argument with a sentence that names the point.
namespace limbwright::meshes {

inline constexpr double pi = std::numbers::pi;
inline constexpr double degree = pi / 180;  ///< [rad]

using solver::Vec2;

struct TracedPoint {
    Vec2 position;  ///< [mm]
    int number;     ///< in the person's list, from 1
};
using Trace = std::vector<TracedPoint>;

/// As messages call it: "point 7 at (12.50, -3.00) mm".
[[nodiscard]] std::string name(const TracedPoint& point);

/// a × b, positive if b is counter-clockwise from a.
[[nodiscard]] double cross(const Vec2& a, const Vec2& b);

/// @throws std::invalid_argument for fewer than eight points or one that is not finite
[[nodiscard]] Trace numbered(std::span<const Vec2> points);

struct BaseCircle {
    Vec2 centre = Vec2::Zero();  ///< [mm]
    double radius = 0;           ///< [mm]
};

/// The circle that is nearest in Σ (|P|² − 2 c·P − k)², k = r² − |c|² (Kåsa 1976).
///
/// @throws std::invalid_argument if the points lie on a straight line
[[nodiscard]] BaseCircle nearest_circle(const Trace& trace);

/// Directions of the points from a centre, counting turns [rad]. Turns the trace round if need be, so that
/// they rise.
///
/// @throws std::invalid_argument if a point goes back by more than noise can
[[nodiscard]] std::vector<double> rising_directions(Trace& trace, const Vec2& centre);

/// Whether the trace comes back to its start: the gap from last to first is no wider than others are.
///
/// @param sweep  from the first direction to the last [rad]
[[nodiscard]] bool goes_all_round(const Trace& trace, double sweep);

/// Directions of the outward normals, from the chord between neighbours on both sides, on the turn nearest to
/// the directions of the points [rad]. A first guess: a chord spans about one fortieth of the trace either
/// way.
[[nodiscard]] std::vector<double> guessed_normals(const Trace& trace, const std::vector<double>& directions,
                                                  bool closed);

/// Walks round as Graham's scan does, leaving out every point at which the walk would turn outward.
///
/// @throws std::invalid_argument if a point left out lies deeper inside the curve than allowed [mm]
void refuse_dents(const Trace& trace, const Vec2& centre, bool closed, double allowed);

}  // namespace limbwright::meshes
