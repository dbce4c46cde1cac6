#include "models/study/parallel_for.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <stdexcept>
#include <vector>

namespace limbwright::models::parallel_for_test {
namespace {

TEST(ParallelFor, EveryNumberIsHandledOnce) {
    for (const int threads : {1, 3}) {
        std::vector<int> handled(100'001, 0);
        EXPECT_TRUE(parallel_for(std::ssize(handled), {.threads = threads, .block = 16},
                                 [&](int thread, std::int64_t first, std::int64_t last) {
                                     EXPECT_TRUE(0 <= thread && thread < threads);
                                     for (; first < last; ++first) ++handled[first];
                                 }));
        EXPECT_EQ(handled, std::vector<int>(100'001, 1));
    }
}

TEST(ParallelFor, NothingIsDoneForNothing) {
    EXPECT_TRUE(parallel_for(0, {.threads = 2}, [](int, std::int64_t, std::int64_t) { FAIL(); }));
}

TEST(ParallelFor, WhatIsThrownOnAnyThreadArrivesAndEndsTheWork) {
    std::atomic<int> calls = 0;
    EXPECT_THROW(parallel_for(std::int64_t{1} << 40, {.threads = 3, .block = long_block},
                              [&](int, std::int64_t first, std::int64_t) {
                                  ++calls;
                                  if (first > 100'000) throw std::runtime_error("stop");
                              }),
                 std::runtime_error);
    EXPECT_LT(calls, 1000);
}

TEST(ParallelFor, ProgressRisesToOne) {
    std::vector<double> shares;
    parallel_for(50'000, {.block = 16'384, .progress = [&](double share) { shares.push_back(share); }},
                 [](int, std::int64_t, std::int64_t) {});
    EXPECT_EQ(shares.size(), 4u);
    EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
    EXPECT_EQ(shares.back(), 1);
}

TEST(ParallelFor, AStopFinishesTheBlockInHandAndBeginsNoOther) {
    std::atomic<bool> stop = false;
    std::vector<std::int64_t> begun;
    EXPECT_FALSE(parallel_for(9, {.block = 2, .stop = &stop}, [&](int, std::int64_t first, std::int64_t) {
        begun.push_back(first);
        stop = first == 4;
    }));
    EXPECT_EQ(begun, (std::vector<std::int64_t>{0, 2, 4}));
}

TEST(ParallelFor, ThereAreNoMoreThreadsThanBlocks) {
    parallel_for(3, {.threads = 100, .block = 2},
                 [](int thread, std::int64_t, std::int64_t) { EXPECT_LT(thread, 2); });
}

}  // namespace
}  // namespace limbwright::models::parallel_for_test
