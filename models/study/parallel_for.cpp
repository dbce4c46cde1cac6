#include "models/study/parallel_for.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace limbwright::models {
namespace {

/// Long enough that taking a block costs nothing, short enough that threads end together.
constexpr std::int64_t block_length = 16384;

}  // namespace

void in_blocks(std::int64_t size, int threads,
               const std::function<void(int thread, std::int64_t first, std::int64_t last)>& work,
               const std::function<void(double)>& progress) {
    std::atomic<std::int64_t> next = 0;
    std::vector<std::exception_ptr> thrown(std::max(threads, 1));
    const auto run = [&](int thread) {
        try {
            for (std::int64_t first; (first = next.fetch_add(block_length)) < size;) {
                const std::int64_t last = std::min(first + block_length, size);
                work(thread, first, last);
                if (thread == 0 && progress) progress(static_cast<double>(last) / static_cast<double>(size));
            }
        } catch (...) {
            thrown[thread] = std::current_exception();
            next = size;
        }
    };
    {
        std::vector<std::jthread> others;
        for (int thread = 1; thread < threads; ++thread) others.emplace_back(run, thread);
        run(0);
    }
    for (const std::exception_ptr& what : thrown)
        if (what) std::rethrow_exception(what);
}

}  // namespace limbwright::models
