#pragma once

#include <vector>

#include "models/study/layout_result.hpp"
#include "models/study/objective.hpp"
#include "models/study/reference_states.hpp"
#include "models/study/rework_effort.hpp"

/// Which of a study's solved layouts are the best.
namespace limbwright::models {

/// A layout's row with all that a person asks about it.
struct RankedLayout : LayoutRow {
    Layout layout;
    Score score;
    Rework rework;  ///< from today's layout
};

/// Layouts that keep all limits come first; then counts the score, of equal ones the rework from today's
/// layout, at last the number.
[[nodiscard]] bool is_better(const RankedLayout& a, const RankedLayout& b);

struct Ranking {
    RankedLayout today;                 ///< its number is negative if it is not of the study's product
    std::vector<RankedLayout> rows;     ///< all that could be solved, by rising number
    std::vector<RankedLayout> best;     ///< as many of them as the study keeps, best first
    std::vector<LayoutRow> failures{};  ///< those that could not be solved
};

/// @param rows   by rising number
/// @param today  row of today's layout; nothing is known of its values if it could not be solved
[[nodiscard]] Ranking ranked(const StudyBase& base, const std::vector<LayoutRow>& rows, LayoutRow today);

}  // namespace limbwright::models
