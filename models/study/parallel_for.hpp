#pragma once

#include <cstdint>
#include <functional>

namespace limbwright::models {

/// Handles 0 … size − 1 in blocks on some threads. Which thread gets which block is left to chance: what
/// `work` leaves behind must not depend on it.
///
/// @param work      called with the thread's number (0 … threads − 1), the block's first number and the one
/// past
///                  its last; what it throws is thrown here, after all threads have ended
/// @param progress  called on the calling thread with the share that is done; may be empty
void in_blocks(std::int64_t size, int threads,
               const std::function<void(int thread, std::int64_t first, std::int64_t last)>& work,
               const std::function<void(double)>& progress = {});

}  // namespace limbwright::models
