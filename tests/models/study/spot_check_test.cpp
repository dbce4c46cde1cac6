#include "models/study/spot_check.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_study.hpp"

namespace limbwright::models::spot_check_test {
namespace {

using testing::small_base;
using testing::small_rows;

TEST(ColdCheck, RowsOfTheFastSolverAreThoseOfThePlainEngine) {
    const ColdCheck check = compare_with_cold(small_base(), small_rows(4), 2);
    EXPECT_EQ(check.compared, (std::vector<std::int64_t>{0}));  // one of a hundred, at least one
    EXPECT_TRUE(check.differing.empty());
    EXPECT_EQ(check.largest.size(), small_base().columns().size());
    for (const double difference : check.largest) EXPECT_LT(difference, 1e-5);  // the check's own tolerance
}

TEST(ColdCheck, ARowThatDiffersIsNamedWithHowMuch) {
    std::vector<LayoutRow> rows = small_rows(2);
    rows[0].values[3] += 0.5;
    const ColdCheck check = compare_with_cold(small_base(), rows, 1);
    EXPECT_EQ(check.differing, (std::vector<std::int64_t>{0}));
    EXPECT_NEAR(check.largest[3], 0.5, 1e-5);
}

TEST(ColdCheck, OneInAHundredIsComparedSpreadEvenly) {
    std::vector<LayoutRow> rows;
    const LayoutRow first = small_rows(1).front();
    for (std::int64_t i = 0; i < 250; ++i) {
        rows.push_back(first);
        rows.back().number = i % 36;  // of 36 in the product
    }
    EXPECT_EQ(compare_with_cold(small_base(), rows, 2).compared,
              (std::vector<std::int64_t>{0, 83 % 36, 166 % 36}));
}

TEST(ColdCheck, LayoutsThatFailedAreLeftOut) {
    const std::vector<LayoutRow> rows{{0, {}, "the string is slack at brace"}};
    EXPECT_TRUE(compare_with_cold(small_base(), rows, 2).compared.empty());
}

TEST(ColdCheck, AStopEndsIt) {
    const std::atomic<bool> stop = true;
    EXPECT_TRUE(compare_with_cold(small_base(), small_rows(1), 2, &stop).stopped);
}

}  // namespace
}  // namespace limbwright::models::spot_check_test
