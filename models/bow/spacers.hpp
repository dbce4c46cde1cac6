#pragma once

#include "models/bow/bow.hpp"

/// Where the spacers put a cam between its limb tips.
namespace limbwright::models {

/// Spacers of one thickness in hand, those standing in the bow included.
struct SpacerKind {
    double thickness = 0;  ///< [mm]
    int count = 0;
};

/// All spacers of both stacks [mm].
[[nodiscard]] double total(const SpacerStacks& stacks);

/// Offset of the cam's middle from the bow's plane, positive left: half of (right stack minus left stack)
/// [mm].
[[nodiscard]] double cam_offset(const SpacerStacks& stacks);

/// Between the inside faces of the limb tips, alike at both ends [mm]: as given, else from the limbs,
///
///     split: 2 lateral − width of the tip,    solid: 2 lateral − width of a prong.
///
/// NaN for split limbs without stations.
[[nodiscard]] double tip_gap(const Bow& bow);

/// What stacks and hub leave of the gap [mm]; negative where they are too long for it.
[[nodiscard]] double left_over(const Bow& bow, const SpacerStacks& stacks, const Cam& cam);

}  // namespace limbwright::models
