#pragma once

#include <functional>
#include <span>
#include <vector>

#include "solver/elements/section.hpp"
#include "solver/numbers/state.hpp"

namespace limbwright::meshes {

/// One cross-section of a strip, at a share of its length.
struct StripStation {
    double at = 0;         ///< 0 … 1
    double width = 0;      ///< [mm]
    double thickness = 0;  ///< [mm]
    double curvature = 0;  ///< of the centre line at rest, κ₂: positive turns axis 1 away from axis 3 [1/mm]
};

/// A tapered strip, curved at rest in the plane of its thickness; between stations everything is linear.
struct Strip {
    double length = 0;                   ///< along the centre line [mm]
    std::vector<StripStation> stations;  ///< by rising `at`, first 0, last 1

    /// Cross-section at a share of the length.
    [[nodiscard]] StripStation at(double share) const;
};

/// Section poses along the strip at rising shares of its length, the first of them at a given pose: axis 1
/// along the strip, 2 across its width, 3 across its thickness. Each segment is an arc with the curvature of
/// its middle.
[[nodiscard]] std::vector<solver::Pose> section_poses(const Strip& strip, const solver::Pose& first,
                                                      std::span<const double> shares);

/// 0, 1/n, 2/n … 1 stretched over [from, to].
[[nodiscard]] std::vector<double> even_shares(double from, double to, int pieces);

/// Tip force per tip deflection of the strip clamped at its root, small, across the chord from root to tip
/// [N/mm]:
///     1/rate = ∫ a²/(E I) + 1/(5/6 G A) ds, a the arm to the tip along the chord  (unit-load theorem).
[[nodiscard]] double flatwise_rate(const Strip& strip, const solver::Moduli& moduli);
/// The same with any section: 1/(E I) and 1/(G A) are the flexibility's entries of κ₂ and Γ₃.
[[nodiscard]] double flatwise_rate(
    const Strip& strip, const std::function<solver::SectionStiffness(const StripStation&)>& section);

}  // namespace limbwright::meshes
