#include "models/study/training_sample.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

namespace limbwright::models::training_sample_test {
namespace {

using Numbers = std::vector<std::int64_t>;

/// 21 × 21 × 2 × 1 layouts × 3 of the same settings.
Space small_space() {
    return {2646, 4, [](std::int64_t number, double* x) {
                number /= 3;
                x[3] = 7;
                x[2] = static_cast<double>(number % 2);
                x[1] = 0.1 * static_cast<double>(number / 2 % 21);
                x[0] = static_cast<double>(number / 42) - 10;
            }};
}

TEST(LayoutSample, TheBoxAndTheCountsAreThoseOfTheSpace) {
    const LayoutSample sample(small_space(), 2);
    EXPECT_EQ(sample.box().least, (std::vector<double>{-10, 0, 0, 7}));
    EXPECT_EQ(sample.box().largest, (std::vector<double>{10, 2, 1, 7}));
    EXPECT_EQ(sample.value_counts(), (std::vector<int>{5, 5, 2, 1}));
}

TEST(LayoutSample, CornersComeFirst) {
    LayoutSample sample(small_space(), 2);
    const Numbers chosen = sample.choose(400);
    for (const std::int64_t corner : {0, 3, 120, 123, 2520, 2523, 2640, 2643})
        EXPECT_TRUE(std::binary_search(chosen.begin(), chosen.end(), corner)) << corner;
}

TEST(LayoutSample, NoLayoutIsChosenTwice) {
    LayoutSample sample(small_space(), 2);
    Numbers all;
    for (const int count : {400, 0, 500, 300}) {
        const Numbers chosen = sample.choose(count);
        EXPECT_EQ(std::ssize(chosen), count);
        EXPECT_TRUE(std::is_sorted(chosen.begin(), chosen.end()));
        all.insert(all.end(), chosen.begin(), chosen.end());
    }
    std::sort(all.begin(), all.end());
    EXPECT_EQ(std::adjacent_find(all.begin(), all.end()), all.end());
}

TEST(LayoutSample, TheChoiceDoesNotDependOnTheNumberOfThreads) {
    LayoutSample one(small_space(), 1), three(small_space(), 3);
    EXPECT_EQ(one.choose(200), three.choose(200));
    EXPECT_EQ(one.choose(300), three.choose(300));
}

TEST(LayoutSample, TheEdgeHasExtraWeight) {
    const Space line{100'000, 1, [](std::int64_t number, double* x) { *x = static_cast<double>(number); }};
    LayoutSample sample(line, 2);
    const Numbers chosen = sample.choose(2000);
    const auto outer = std::count_if(chosen.begin(), chosen.end(),
                                     [](std::int64_t number) { return number < 12'500 || number >= 87'500; });
    // A quarter of an even choice; here half of a quarter and nine in ten of the other half.
    EXPECT_NEAR(static_cast<double>(outer), 1150, 70);
}

TEST(LayoutSample, MoreThanHalfOfTheSpaceIsRefused) {
    LayoutSample sample(small_space(), 1);
    (void)sample.choose(1000);
    EXPECT_THROW((void)sample.choose(324), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::models::training_sample_test
