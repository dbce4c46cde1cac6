#pragma once

#include "models/study/parallel_solve.hpp"
#include "models/study/ranking.hpp"
#include "models/study/search.hpp"

/// A study from its first layout to its ranking. Nothing of it depends on threads, stops or what was known.
namespace limbwright::models {

/// Thrown when a run was stopped. What was solved has gone to the sink.
struct Stopped {};

struct StudyOptions {
    RunOptions run{};
    std::vector<LayoutRow> known{};  ///< rows of earlier runs, which are not solved again
    RowSink sink{};                  ///< takes new rows as they come; may be empty
    /// Of screening, besides solving: what is being done and the share of it that is done; may be empty.
    std::function<void(std::string_view, double)> progress{};
};

struct RankedStudy {
    StudySearch search;
    std::vector<LayoutRow> rows;  ///< by rising number; today's is among them if it is of the product
    Ranking ranking;
};

/// Solves what must be solved to know the best layouts, and ranks them.
///
/// @throws Stopped, and what the sink throws
[[nodiscard]] RankedStudy rank_study(const StudyBase& base, const StudyOptions& options);

/// Solves one share of the work for its rows, see `search_share`.
///
/// @return how many rows are known at the end
/// @throws Stopped, and what the sink throws
std::size_t solve_share(const StudyBase& base, const StudyOptions& options,
                        const std::function<bool(std::int64_t)>& in_share);

}  // namespace limbwright::models
