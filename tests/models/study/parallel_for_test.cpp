#include "models/study/parallel_for.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <stdexcept>
#include <vector>

namespace limbwright::models::parallel_for_test {
namespace {

TEST(Blocks, EveryNumberIsHandledOnce) {
    for (const int threads : {1, 3}) {
        std::vector<int> handled(100'001, 0);
        in_blocks(std::ssize(handled), threads, [&](int thread, std::int64_t first, std::int64_t last) {
            EXPECT_TRUE(0 <= thread && thread < threads);
            for (; first < last; ++first) ++handled[first];
        });
        EXPECT_EQ(handled, std::vector<int>(100'001, 1));
    }
}

TEST(Blocks, NothingIsDoneForNothing) {
    in_blocks(0, 2, [](int, std::int64_t, std::int64_t) { FAIL(); });
}

TEST(Blocks, WhatIsThrownOnAnyThreadArrivesAndEndsTheWork) {
    std::atomic<int> calls = 0;
    EXPECT_THROW(in_blocks(std::int64_t{1} << 40, 3,
                           [&](int, std::int64_t first, std::int64_t) {
                               ++calls;
                               if (first > 100'000) throw std::runtime_error("stop");
                           }),
                 std::runtime_error);
    EXPECT_LT(calls, 1000);
}

TEST(Blocks, ProgressRisesToOne) {
    std::vector<double> shares;
    in_blocks(
        50'000, 1, [](int, std::int64_t, std::int64_t) {}, [&](double share) { shares.push_back(share); });
    EXPECT_EQ(shares.size(), 4u);
    EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
    EXPECT_EQ(shares.back(), 1);
}

}  // namespace
}  // namespace limbwright::models::parallel_for_test
