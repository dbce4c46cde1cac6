#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/study/batch_solver.hpp"
#include "postproc/output/plot.hpp"
#include "postproc/output/table.hpp"
#include "postproc/results/ranking_results.hpp"

/// Today's layout and the best few of a study, drawn in full and held side by side.
namespace limbwright::postproc {

/// A layout from brace to today's full draw, in as many states as the bow's file asks for.
struct FullDraw {
    std::string name;  ///< "today", "best 1", …
    std::optional<models::StrungBow> strung;
    models::Draw draw;
    std::string failure;  ///< why it could not be strung or drawn to the end; empty if it could
};

/// Today's first, then the best ones, strung as the study says: with today's lengths, or re-timed.
///
/// @param count  of the best ones
[[nodiscard]] std::vector<FullDraw> full_draws(const models::StudyBase& base, const RankingResults& results,
                                               int count);

/// One measure along the draws that came to their end, a curve each; none where the bow has no such measure.
[[nodiscard]] std::vector<Curve> curves_of(const std::vector<FullDraw>& draws, const std::string& measure);

/// What a torque of the hand does at full draw, of today's layout and the best ones.
///
/// @param count  of the best ones
[[nodiscard]] Table forgiveness_table(const RankingResults& results, int count);

}  // namespace limbwright::postproc
