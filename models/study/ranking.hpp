#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "models/study/design_space.hpp"
#include "models/study/layout_result.hpp"
#include "models/study/objective.hpp"
#include "models/study/rework_effort.hpp"

/// Which of a study's solved layouts are the best.
namespace limbwright::models {

/// Where a solved layout stands. Layouts that keep all limits come first; then counts the score, of equal
/// ones the rework from today's layout, at last the number.
struct Standing {
    std::int64_t number = 0;
    Score score;
    Rework rework;
};
[[nodiscard]] bool is_better(const Standing& a, const Standing& b);

/// Standings of the rows that could be solved, in the rows' order.
[[nodiscard]] std::vector<Standing> standings(std::span<const LayoutRow> rows, const Scorer& scorer,
                                              const Product& product, const Bow& bow);

/// The best ones, best first.
[[nodiscard]] std::vector<Standing> best_of(std::vector<Standing> all, std::size_t keep);

/// Number of today's layout in the study's product, if it is one of it. Spacers count by where they put the
/// cams.
[[nodiscard]] std::optional<std::int64_t> number_of_today(const Bow& bow, const Study& study,
                                                          const Product& product);

}  // namespace limbwright::models
