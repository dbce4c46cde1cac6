#include "postproc/output/progress.hpp"

#include <gtest/gtest.h>

namespace limbwright::postproc::progress_test {
namespace {

/// What stands on standard error after some reports; standard error is no terminal then.
template <class Reports>
std::string shown(ProgressStyle style, const Reports& reports) {
    ::testing::internal::CaptureStderr();
    {
        Progress progress(style);
        reports(progress);
    }
    return ::testing::internal::GetCapturedStderr();
}

TEST(Progress, LongNumbersAreGrouped) {
    EXPECT_EQ(grouped(0), "0");
    EXPECT_EQ(grouped(999), "999");
    EXPECT_EQ(grouped(4860), "4,860");
    EXPECT_EQ(grouped(4811400), "4,811,400");
    EXPECT_EQ(grouped(-100), "-100");
    EXPECT_EQ(grouped(-1000), "-1,000");
}

TEST(Progress, TellsCountRateAndTimeLeft) {
    EXPECT_EQ(progress_text(1000, 4000, 0.5), "1,000 of 4,000 layouts, 2,000 a second, 2 s left");
    EXPECT_EQ(progress_text(10, 1000, 10), "10 of 1,000 layouts, 1.0 a second, 17 min left");
    EXPECT_EQ(progress_text(10, 100000, 10), "10 of 100,000 layouts, 1.0 a second, 27 h 47 min left");
}

TEST(Progress, KnowsNoRateBeforeTheFirstAndNoTimeLeftAfterTheLast) {
    EXPECT_EQ(progress_text(0, 40, 0.1), "0 of 40 layouts");
    EXPECT_EQ(progress_text(40, 40, 2), "40 of 40 layouts, 20 a second");
}

TEST(Progress, AwayFromATerminalTheLastReportIsALine) {
    EXPECT_EQ(shown(ProgressStyle::automatic,
                    [](Progress& p) {
                        p.layouts(1, 2, 1);  // too early for a line
                        p.layouts(2, 2, 1);
                    }),
              "2 of 2 layouts, 2.0 a second\n");
}

TEST(Progress, OneLineIsWrittenOverAndEndedAtTheLast) {
    EXPECT_EQ(shown(ProgressStyle::always, [](Progress& p) { p.layouts(2, 2, 1); }),
              "\r2 of 2 layouts, 2.0 a second\n");
}

TEST(Progress, NeverMeansNever) {
    EXPECT_EQ(shown(ProgressStyle::never, [](Progress& p) { p.layouts(2, 2, 1); }), "");
}

}  // namespace
}  // namespace limbwright::postproc::progress_test
