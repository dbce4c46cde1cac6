#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "models/states/measures.hpp"

/// What a static model knows of a paper tear: numbers of a draw, read backwards, from full draw to brace, as
/// the arrow goes through it.
///
/// The bow's riser is the frame: while the arrow flies off, the bow has no time to turn.
namespace limbwright::models {

/// The measures, each with a sign such that positive is what leaves a tail-left or a tail-high tear:
///
///     tail turn     = arrow's line at full draw − arrow's line at brace    [deg]
///     end slope     = nock's path toward the target over the last 3 in − arrow's line at brace    [deg]
///     nock side force = of the string on the nock across the arrow's line, positive left    [N]
///     side push     = ∫ side force dx / ∫ draw force dx over the stroke    [%]
///
/// The arrow's line runs from nocking point to rest in the riser's axes. Tail turn is by how much the string
/// has carried the arrow's tail aside, about the rest, when it lets it go; end slope is where the tail is
/// heading then.
[[nodiscard]] std::vector<Measure> tear_measures();

/// Length of the stroke's end over which its slope is taken [mm].
inline constexpr double stroke_end = 3 * 25.4;

/// The value of one of them.
///
/// @throws std::invalid_argument if there is none of that id
[[nodiscard]] double tear_measure(std::string_view id, const StrungBow& strung, const Draw& draw);

/// What a static model cannot see, in sentences.
[[nodiscard]] std::span<const char* const> unseen_by_statics();

}  // namespace limbwright::models
