#pragma once

#include <span>

#include "models/study/batch_solver.hpp"
#include "models/study/study_file.hpp"
#include "postproc/results/ranking_results.hpp"

/// From solved rows to a ranking.
namespace limbwright::postproc {

/// Everything but the notes and the files' texts.
///
/// @param rows   by rising number
/// @param today  row of today's layout; a negative number if it is not in the product
[[nodiscard]] RankingResults results_of(const models::StudyFile& study, const models::StudyBase& base,
                                        std::span<const models::LayoutRow> rows,
                                        const models::LayoutRow& today);

}  // namespace limbwright::postproc
