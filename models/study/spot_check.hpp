#pragma once

#include <atomic>
#include <functional>
#include <span>

#include "models/study/batch_solver.hpp"

/// Solved rows held against the plain engine from cold, which shares neither start nor kernels with them.
namespace limbwright::models {

struct ColdCheck {
    std::vector<double> largest;         ///< |row − cold| of each column, in its unit
    std::vector<std::int64_t> compared;  ///< numbers of the layouts
    /// Layouts of which a value differs by more than 1e-5 × (1 + |value|), or which only one of the two could
    /// solve.
    std::vector<std::int64_t> differing;
    bool stopped = false;  ///< before all were compared
};

/// One row in a hundred of those that were solved, spread evenly; at least one, at most 500.
///
/// @param stop      ends the check early; may be null
/// @param progress  called on the calling thread with the share that is done; may be empty
[[nodiscard]] ColdCheck compare_with_cold(const StudyBase& base, std::span<const LayoutRow> rows, int threads,
                                          const std::atomic<bool>* stop = nullptr,
                                          const std::function<void(double)>& progress = {});

}  // namespace limbwright::models
