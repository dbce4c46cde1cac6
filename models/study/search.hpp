#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "models/study/batch_solver.hpp"
#include "models/study/objective.hpp"
#include "models/study/surrogate_screening.hpp"

/// Which layouts of a study must be solved to know the best of them: all of a small product, few of a large
/// one.
namespace limbwright::models {

/// Solves layouts, by rising number; a row for each.
using SolveLayouts = std::function<std::vector<LayoutRow>(std::span<const std::int64_t>)>;

struct SearchOptions {
    int threads = 1;
    /// Of screening, besides solving: what is being done and the share of it that is done; may be empty.
    std::function<void(std::string_view, double)> progress{};
};

struct StudySearch {
    std::vector<std::int64_t> solved;    ///< by rising number: all that solving was asked for
    std::optional<Screening> screening;  ///< none where all layouts were solved
    std::vector<std::size_t> columns;    ///< that the screening looked at, among the study's
};

/// Whether the study's product is too large to be solved in full.
[[nodiscard]] bool is_screened(const StudyBase& base);

/// Solves all layouts of a small product; of a large one those that screening needs, then all candidates,
/// until there are no more. What is solved depends on the study alone.
[[nodiscard]] StudySearch search(const StudyBase& base, const SolveLayouts& solve,
                                 const SearchOptions& options);

/// One share of the work, for the rows that it leaves behind: of all layouts, or of the first candidates of a
/// screening that every share makes for itself.
void search_share(const StudyBase& base, const SolveLayouts& solve, const SearchOptions& options,
                  const std::function<bool(std::int64_t)>& in_share);

}  // namespace limbwright::models
