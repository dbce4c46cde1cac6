#include "postproc/results/study_results.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/study/ranking.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::postproc::study_results_test {
namespace {

using testing::small_base;

models::StudyFile study_file() {
    models::StudyFile file{testing::small_study(), "crossed.toml", testing::crossed_bow()};
    file.study.keep = 4;
    return file;
}

/// A few rows, the second of which failed, and today's.
RankingResults results() {
    std::vector<models::LayoutRow> rows = testing::small_rows(8);
    rows[1] = {1, {}, "the string is slack"};
    return results_of(study_file(), small_base(), rows, rows[2]);
}

TEST(StudyResults, HoldEveryRowThatCouldBeSolvedAndTheCausesOfTheOthers) {
    const RankingResults r = results();
    ASSERT_EQ(r.rows.size(), 7u);
    EXPECT_EQ(r.rows[1].number, 2);
    EXPECT_EQ(r.rows[1].values.size(), r.columns.size());
    EXPECT_EQ(r.rows[1].settings.size(), r.settings.size());
    ASSERT_EQ(r.failures.size(), 1u);
    EXPECT_EQ(r.failures[0].first, 1);
}

TEST(StudyResults, TheBestStandInTheirOrderWithTheirOwnValues) {
    const RankingResults r = results();
    ASSERT_EQ(r.best.size(), 4u);
    EXPECT_TRUE(std::ranges::is_sorted(r.best, {}, [](const RankedLayout& l) { return l.score.miss; }));
    for (const RankedLayout& best : r.best) {
        const auto row = std::ranges::find(r.rows, best.number, &SolvedLayout::number);
        ASSERT_NE(row, r.rows.end());
        EXPECT_EQ(row->values, best.values);
        EXPECT_EQ(row->score, best.score.miss);
    }
}

TEST(StudyResults, TodaysLayoutNeedsNoRework) {
    const RankingResults r = results();
    EXPECT_EQ(r.today.rework.work, models::Work::none);
    EXPECT_EQ(r.today.layout.pairing.top_left, 51);
}

TEST(StudyResults, NothingIsSaidOfTodaysLayoutIfItCouldNotBeSolved) {
    const RankingResults r = results_of(study_file(), small_base(), {}, {-1, {}, "the string is slack"});
    EXPECT_EQ(r.today.values.size(), r.columns.size());
    EXPECT_TRUE(std::isnan(r.today.values[0]));
    EXPECT_TRUE(r.best.empty());
}

}  // namespace
}  // namespace limbwright::postproc::study_results_test
