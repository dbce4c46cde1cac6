#pragma once

#include <atomic>
#include <cstdint>
#include <functional>

namespace limbwright::models {

/// How a loop is divided, and who looks on.
struct ParallelOptions {
    int threads = 1;
    std::int64_t block = 1;  ///< numbers that a thread takes at once
    /// When it becomes true, the blocks in hand are finished and no others begun; may be null.
    const std::atomic<bool>* stop = nullptr;
    /// Called on the calling thread, between its blocks and at the end, with the share that is done; may be
    /// empty.
    std::function<void(double)> progress{};
};

/// For what takes so little that a thread should take many at once, yet few enough that threads end together.
inline constexpr std::int64_t long_block = 16384;

/// Handles 0 … size − 1 in blocks on some threads, the calling one among them. Which thread gets which block
/// is left to chance: what `work` leaves behind must not depend on it.
///
/// @param work  called with the thread's number (0 … threads − 1), the block's first number and the one past
///              its last
/// @return whether all were handled; false after a stop
/// @throws what `work` or `progress` throws, after all threads have ended
bool parallel_for(std::int64_t size, const ParallelOptions& options,
                  const std::function<void(int thread, std::int64_t first, std::int64_t last)>& work);

}  // namespace limbwright::models
