#pragma once

#include <span>
#include <vector>

#include "meshes/trace.hpp"
#include "solver/elements/groove.hpp"

/// Support functions by penalised least squares.
namespace limbwright::meshes {

using solver::Groove;
using solver::Vec2;
using solver::VecX;

/// Over what a groove's spline is spread.
struct SupportRange {
    double begin = 0;  ///< ignored if closed [rad]
    double end = 0;
    bool closed = false;
};

/// How many knots suit so many data over such a range: fewer than data, at most one every three degrees.
[[nodiscard]] int knots_for(std::size_t data, const SupportRange& range);

/// Weights from hardly any smoothing to nearly a circle.
constexpr double least_weight = 1e-8;
constexpr double largest_weight = 1.0;
constexpr double weight_ratio = 3.1622776601683795;  ///< from one weight that is tried to the next

/// The groove whose h(ψ_i) is nearest to the distances d_i and whose radius of curvature changes least:
///
///     (1/N) Σ (h(ψ_i) − d_i)² + weight² (1/n) Σ (h′ + h‴)²  →  least,
///
/// the second sum over the middles of the n intervals.
class SupportFit {
public:
    /// @param base  the circle from which the spline part of h is counted
    SupportFit(const SupportRange& range, const BaseCircle& base, int knots,
               std::span<const double> directions, std::span<const double> distances);

    /// The weight that generalised cross-validation prefers: least N Σ residual² / (N − trace)², the trace
    /// that of the map from distances to fitted distances (Craven and Wahba 1979).
    [[nodiscard]] double best_weight() const;
    [[nodiscard]] Groove groove(double weight) const;

private:
    [[nodiscard]] solver::MatX normal_matrix(double weight) const;

    SupportRange range_;
    BaseCircle base_;
    VecX distances_;                          // less those of the base circle
    solver::MatX fit_;                        // spline at the directions by its values at the knots
    solver::MatX roughness_;                  // its h′ + h‴ at the middles by the same
    solver::MatX fit_normal_, rough_normal_;  // both times their transposes
};

}  // namespace limbwright::meshes
