#include "models/study/parallel_for.hpp"

#include <algorithm>
#include <exception>
#include <thread>
#include <vector>

namespace limbwright::models {

bool parallel_for(std::int64_t size, const ParallelOptions& options,
                  const std::function<void(int thread, std::int64_t first, std::int64_t last)>& work) {
    const std::int64_t blocks = (size + options.block - 1) / options.block;
    const int threads =
        static_cast<int>(std::clamp<std::int64_t>(options.threads, 1, std::max<std::int64_t>(blocks, 1)));
    std::atomic<std::int64_t> next = 0, done = 0;
    std::vector<std::exception_ptr> thrown(threads);
    const auto run = [&](int thread) {
        try {
            while (!(options.stop && *options.stop)) {
                const std::int64_t first = next.fetch_add(options.block);
                if (first >= size) break;
                const std::int64_t last = std::min(first + options.block, size);
                work(thread, first, last);
                const std::int64_t now = done += last - first;
                if (thread == 0 && options.progress && now < size)
                    options.progress(static_cast<double>(now) / static_cast<double>(size));
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
    if (done == size && options.progress) options.progress(1);
    return done == size;
}

}  // namespace limbwright::models
