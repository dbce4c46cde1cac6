#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/study/ranking.hpp"

namespace limbwright::models {

/// A layout from brace to today's full draw, in as many states as the bow's file asks for.
struct FullDraw {
    std::string name;  ///< "today", "best 1", …
    std::optional<StrungBow> strung;
    Draw draw;
    std::string failure;  ///< why it could not be strung or drawn to the end; empty if it could
};

/// Today's first, then the best of a study, strung as the study says: with today's lengths, or re-timed.
///
/// @param count  of the best ones, at most
[[nodiscard]] std::vector<FullDraw> full_draws(const StudyBase& base, const Ranking& ranking, int count,
                                               int threads = 1);

}  // namespace limbwright::models
