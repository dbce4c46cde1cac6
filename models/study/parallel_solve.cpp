#include "models/study/parallel_solve.hpp"

#include <algorithm>
#include <chrono>
#include <iterator>
#include <memory>
#include <mutex>

#include "models/study/parallel_for.hpp"

namespace limbwright::models {
namespace {

using Clock = std::chrono::steady_clock;

/// Rows wait so long for the sink: little is lost when the program is killed, and disks are not worn.
constexpr std::chrono::milliseconds sink_pause{250};

}  // namespace

bool solve_layouts(const StudyBase& base, std::span<const std::int64_t> numbers, const RunOptions& options,
                   const RowSink& sink) {
    const Clock::time_point begin = Clock::now();
    Clock::time_point handed_over = begin;
    std::mutex mutex;
    std::vector<LayoutRow> brought;  // that the sink does not have yet
    std::int64_t done = 0;
    const auto hand_over = [&] {
        std::vector<LayoutRow> rows;
        {
            const std::lock_guard lock(mutex);
            rows.swap(brought);
        }
        std::ranges::sort(rows, {}, &LayoutRow::number);
        if (!rows.empty()) sink(rows);
        done += std::ssize(rows);
        handed_over = Clock::now();
        if (options.progress)
            options.progress(done, std::ssize(numbers),
                             std::chrono::duration<double>(handed_over - begin).count());
    };
    std::vector<std::unique_ptr<LayoutSolver>> solvers(std::max(options.threads, 1));
    const bool all = parallel_for(std::ssize(numbers),
                                  {.threads = options.threads,
                                   .block = solver::LanePack::width,
                                   .stop = options.stop,
                                   .progress =
                                       [&](double) {
                                           if (Clock::now() - handed_over >= sink_pause) hand_over();
                                       }},
                                  [&](int thread, std::int64_t first, std::int64_t last) {
                                      if (!solvers[thread])
                                          solvers[thread] = std::make_unique<LayoutSolver>(base);
                                      std::vector<LayoutRow> rows =
                                          solvers[thread]->solve(numbers.subspan(first, last - first));
                                      const std::lock_guard lock(mutex);
                                      std::ranges::move(rows, std::back_inserter(brought));
                                  });
    hand_over();
    return all;
}

}  // namespace limbwright::models
