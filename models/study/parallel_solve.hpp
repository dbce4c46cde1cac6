#pragma once

#include <atomic>
#include <functional>

#include "models/study/batch_solver.hpp"

/// Layouts of a study solved on many threads.
namespace limbwright::models {

struct RunOptions {
    int threads = 1;
    /// When it becomes true, the packs in hand are finished and no others begun; may be null.
    const std::atomic<bool>* stop = nullptr;
    /// Called on the calling thread a few times a second, and at the end; may be empty.
    std::function<void(std::int64_t done, std::int64_t all, double seconds)> progress{};
};

/// Takes solved rows on the calling thread, by rising number within one call.
using RowSink = std::function<void(std::span<const LayoutRow>)>;

/// Solves layouts in packs that threads take one after the other. What is finished goes to the sink a few
/// times a second, between two packs of the calling thread, so that a run that is killed loses no more than
/// that. A row depends neither on the number of threads nor on which layouts are solved together.
///
/// @param numbers  by rising number
/// @return whether all were solved; false after a stop
/// @throws what a solver or the sink throws, after all threads have ended
bool solve_layouts(const StudyBase& base, std::span<const std::int64_t> numbers, const RunOptions& options,
                   const RowSink& sink);

}  // namespace limbwright::models
