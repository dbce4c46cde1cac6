#pragma once

#include "models/parts/limb_chain.hpp"
#include "models/parts/riser_parts.hpp"

namespace limbwright::models {

/// All limb rows of one end: two split limbs; or a solid limb and its two prongs.
struct LimbParts {
    std::vector<LimbRow> rows;
    std::array<std::size_t, 2> tip_rows{};  ///< rows whose last section sits on the axle: left, right
};

/// Angle of a limb's tangent at its root from upright toward the archer, limb bolt included [rad].
[[nodiscard]] double limb_root_angle(const Bow& bow, const Layout& layout, End end);

/// Pose of a limb's root in the bow's own frame at rest: axis 1 along the limb, 2 to the left.
[[nodiscard]] solver::Pose limb_root(const Bow& bow, const Layout& layout, End end, double lateral);

/// Pose of the axle's middle at rest, unloaded: axes 1, 2, 3 along Y, Z, X.
[[nodiscard]] solver::Pose axle_rest(const Bow& bow, const Layout& layout, End end);

/// Adds the limbs of one end between the riser and the two ends of its axle, as beams or as shells.
///
/// @param axle_nodes  of the axle in the middle of the left and the right limb tip
/// @param tip_turns   scalars by which the tips turn freely about it
[[nodiscard]] LimbParts add_limbs(const Bow& bow, const Layout& layout, End end, const RiserParts& riser,
                                  const std::array<solver::NodeId, 2>& axle_nodes,
                                  const std::array<solver::ScalarId, 2>& tip_turns, Builder& builder);

}  // namespace limbwright::models
