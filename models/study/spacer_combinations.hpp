#pragma once

#include <vector>

#include "models/bow/bow.hpp"
#include "models/study/study.hpp"

/// Spacer layouts out of one box.
namespace limbwright::models {

/// Spacers at both cams.
struct SpacerPair {
    SpacerStacks top, bottom;
};

/// Every pair of stacks that fills the gap at one cam, alone with the whole box: what is left of the gap lies
/// between zero and the bow's play. Stacks run thin to thick; one or both may be empty.
///
/// @throws std::length_error  if there are too many to go through
[[nodiscard]] std::vector<SpacerStacks> stacks_at(const Bow& bow, const Cam& cam,
                                                  const std::vector<SpacerKind>& box);

/// Every spacer layout that the box holds for both cams together, by rising cam offset, top before bottom.
/// Those with the same offset at both cams do the same to the bow: of them stands here the one that moves
/// fewest spacers of today's layout; of several such, the first by the counts of its thinnest, next …
/// spacers.
///
/// @throws std::length_error  if there are too many to go through
[[nodiscard]] std::vector<SpacerPair> spacer_pairs(const Bow& bow, const std::vector<SpacerKind>& box);

/// By how much the box misses the gap at one cam at best [mm]: zero where it fills it, positive where spacers
/// and hub are that much short of the play's end, negative where they are that much too long.
[[nodiscard]] double nearest_miss(const Bow& bow, const Cam& cam, const std::vector<SpacerKind>& box);

}  // namespace limbwright::models
