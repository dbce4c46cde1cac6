#include "models/study/parallel_solve.hpp"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <iterator>
#include <mutex>
#include <thread>

namespace limbwright::models {
namespace {

using Clock = std::chrono::steady_clock;

/// Rows wait so long for the sink: little is lost when the program is killed, and disks are not worn.
constexpr std::chrono::milliseconds sink_pause{250};
constexpr std::size_t pack_width = solver::LanePack::width;

/// Packs that threads take, and rows that they bring.
class Counter {
public:
    Counter(const StudyBase& base, std::span<const std::int64_t> numbers, const std::atomic<bool>* stop)
        : base_(base), numbers_(numbers), stop_(stop) {}

    /// What every thread does until no packs are left.
    void work() {
        try {
            LayoutSolver solver(base_);
            while (!stopped()) {
                const std::size_t first = next_.fetch_add(pack_width);
                if (first >= numbers_.size()) break;
                bring(solver.solve(numbers_.subspan(first, std::min(pack_width, numbers_.size() - first))));
            }
        } catch (...) {
            const std::lock_guard lock(mutex_);
            thrown_ = std::current_exception();
            given_up_ = true;
        }
        const std::lock_guard lock(mutex_);
        ++ended_;
        news_.notify_one();
    }

    /// Rows since the last call, by rising number; waits for them a while, or until all threads have ended.
    [[nodiscard]] std::vector<LayoutRow> collect(int threads) {
        std::vector<LayoutRow> rows;
        {
            std::unique_lock lock(mutex_);
            news_.wait_for(lock, sink_pause, [&] { return ended_ == threads; });
            rows.swap(brought_);
        }
        std::ranges::sort(rows, {}, &LayoutRow::number);
        return rows;
    }

    [[nodiscard]] bool ended(int threads) {
        const std::lock_guard lock(mutex_);
        return ended_ == threads && brought_.empty();
    }
    void give_up() { given_up_ = true; }
    void rethrow() {
        if (thrown_) std::rethrow_exception(thrown_);
    }

private:
    [[nodiscard]] bool stopped() const { return given_up_ || (stop_ && *stop_); }
    void bring(std::vector<LayoutRow> rows) {
        const std::lock_guard lock(mutex_);
        std::ranges::move(rows, std::back_inserter(brought_));
    }

    const StudyBase& base_;
    std::span<const std::int64_t> numbers_;
    const std::atomic<bool>* stop_;
    std::atomic<std::size_t> next_ = 0;
    std::atomic<bool> given_up_ = false;
    std::mutex mutex_;
    std::condition_variable news_;
    std::vector<LayoutRow> brought_;
    std::exception_ptr thrown_;
    int ended_ = 0;
};

}  // namespace

bool solve_layouts(const StudyBase& base, std::span<const std::int64_t> numbers, const RunOptions& options,
                   const RowSink& sink) {
    const Clock::time_point begin = Clock::now();
    const std::size_t packs = (numbers.size() + pack_width - 1) / pack_width;
    const int threads = static_cast<int>(std::min<std::size_t>(std::max(options.threads, 1), packs));
    std::size_t done = 0;
    Counter counter(base, numbers, options.stop);
    {
        std::vector<std::jthread> workers;
        for (int i = 0; i < threads; ++i) workers.emplace_back([&] { counter.work(); });
        try {
            while (!counter.ended(threads)) {
                const std::vector<LayoutRow> rows = counter.collect(threads);
                if (!rows.empty()) sink(rows);
                done += rows.size();
                if (options.progress)
                    options.progress(static_cast<std::int64_t>(done), std::ssize(numbers),
                                     std::chrono::duration<double>(Clock::now() - begin).count());
            }
        } catch (...) {
            counter.give_up();
            throw;
        }
    }
    counter.rethrow();
    return done == numbers.size();
}

}  // namespace limbwright::models
