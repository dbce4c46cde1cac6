#pragma once

#include <optional>
#include <span>

#include "solver/elements/groove.hpp"

/// Smooth convex grooves from what was measured on a part.
namespace limbwright::meshes {

using solver::Groove;
using solver::Vec2;

struct FitOptions {
    double allowed_misfit = 0.5;      ///< of any point, and of any dent in the trace [mm]
    std::optional<bool> closed = {};  ///< whether the points go all the way round; none: told by the gap
                                      ///< between the last point and the first
};

struct FittedGroove {
    Groove groove;
    double largest_misfit;  ///< distance of the point farthest from the curve [mm]
    double rms;             ///< root of the mean square distance of all points [mm]
};

/// The smooth convex groove nearest to points traced round a part, about the pole (0, 0).
///
/// Least squares in the distances n·P − h(ψ), taken at the ψ where t·P = h′(ψ). The spline part of h starts
/// from the least-squares circle and is held smooth by a weight on ρ′ = h′ + h‴, the change of the radius of
/// curvature, which is chosen by generalised cross-validation (Craven and Wahba 1979): exact points are
/// followed closely, noisy ones are smoothed. If the curve is not convex, the weight is raised until it is.
///
/// An open groove's range runs from the normal at one end of the trace to the normal at the other.
///
/// @param points  in order round the groove, either way round [mm]
/// @throws std::invalid_argument that names the point (counted from 1) and says what is wrong and what is
///         wanted: too few points, not in order, not convex, farther from the curve than allowed
[[nodiscard]] FittedGroove fit_traced(std::span<const Vec2> points, const FitOptions& options = {});

/// A groove from its support function, given as a table: a full turn (with or without the first row repeated
/// at the end) or a part of one.
///
/// @param directions  of the tangent line's normal, rising [rad]
/// @param distances  of the tangent line from the pole, h [mm]
/// @param allowed_misfit  of any row from the smooth curve [mm]
/// @throws std::invalid_argument as `fit_traced`, with rows counted from 1
[[nodiscard]] Groove groove_from_support(std::span<const double> directions,
                                         std::span<const double> distances, double allowed_misfit = 0.1);

}  // namespace limbwright::meshes
