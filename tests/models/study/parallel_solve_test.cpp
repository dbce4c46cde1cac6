#include "models/study/parallel_solve.hpp"

#include <gtest/gtest.h>

#include <cstring>
#include <stdexcept>

#include "tests/support/small_study.hpp"

namespace limbwright::models::parallel_solve_test {
namespace {

using testing::first_numbers;
using testing::small_base;

constexpr std::int64_t all_layouts = 36;

struct Gathered {
    std::vector<LayoutRow> rows;
    bool finished = false;
};

Gathered solved(const std::vector<std::int64_t>& numbers, const RunOptions& options) {
    Gathered all;
    all.finished = solve_layouts(small_base(), numbers, options, [&](std::span<const LayoutRow> rows) {
        EXPECT_TRUE(std::ranges::is_sorted(rows, {}, &LayoutRow::number));
        all.rows.insert(all.rows.end(), rows.begin(), rows.end());
    });
    std::ranges::sort(all.rows, {}, &LayoutRow::number);
    return all;
}

void expect_same_bits(const LayoutRow& a, const LayoutRow& b) {
    EXPECT_EQ(a.number, b.number);
    EXPECT_EQ(a.failure, b.failure);
    ASSERT_EQ(a.values.size(), b.values.size());
    EXPECT_EQ(std::memcmp(a.values.data(), b.values.data(), a.values.size() * sizeof(double)), 0) << a.number;
}

TEST(StudyRun, EveryLayoutComesOnce) {
    const Gathered all = solved(first_numbers(all_layouts), {.threads = 2});
    EXPECT_TRUE(all.finished);
    ASSERT_EQ(std::ssize(all.rows), all_layouts);
    for (std::int64_t i = 0; i < all_layouts; ++i) EXPECT_EQ(all.rows[i].number, i);
}

TEST(StudyRun, RowsDependNeitherOnThreadsNorOnTheirNeighbours) {
    const Gathered all = solved(first_numbers(all_layouts), {.threads = 1});
    std::vector<std::int64_t> odd;
    for (std::int64_t i = 1; i < all_layouts; i += 2) odd.push_back(i);
    const Gathered some = solved(odd, {.threads = 2});
    ASSERT_EQ(some.rows.size(), odd.size());
    for (std::size_t i = 0; i < odd.size(); ++i) expect_same_bits(some.rows[i], all.rows[odd[i]]);
}

TEST(StudyRun, AStopLeavesWhatIsFinishedAndBeginsNothingMore) {
    std::atomic<bool> stop = true;
    const Gathered none = solved(first_numbers(all_layouts), {.threads = 2, .stop = &stop});
    EXPECT_FALSE(none.finished);
    EXPECT_TRUE(none.rows.empty());
}

TEST(StudyRun, TellsItsProgressToTheEnd) {
    std::int64_t last = -1, whole = -1;
    (void)solved({0, 1, 2}, {.progress = [&](std::int64_t done, std::int64_t all, double seconds) {
                     EXPECT_GE(done, last);
                     EXPECT_GE(seconds, 0);
                     last = done;
                     whole = all;
                 }});
    EXPECT_EQ(last, 3);
    EXPECT_EQ(whole, 3);
}

TEST(StudyRun, WhatTheSinkThrowsEndsTheRun) {
    const std::vector<std::int64_t> numbers = first_numbers(all_layouts);
    EXPECT_THROW(solve_layouts(small_base(), numbers, {.threads = 2},
                               [](std::span<const LayoutRow>) { throw std::runtime_error("disk full"); }),
                 std::runtime_error);
}

TEST(StudyRun, NothingToSolveIsFinishedAtOnce) {
    EXPECT_TRUE(solved({}, {.threads = 2}).finished);
}

}  // namespace
}  // namespace limbwright::models::parallel_solve_test
