#include "models/study/ranking.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/small_study.hpp"

namespace limbwright::models::ranking_test {
namespace {

using testing::small_base;

RankedLayout layout(std::int64_t number, double miss, bool broken, Rework rework = {}) {
    RankedLayout made;
    made.number = number;
    made.score.miss = miss;
    if (broken) made.score.broken = {"clearance"};
    made.rework = rework;
    return made;
}

/// A few rows, the second of which failed; the third is said to be today's.
const Ranking& ranking() {
    static const Ranking made = [] {
        std::vector<LayoutRow> rows = testing::small_rows(8);
        rows[1] = {1, {}, "the string is slack"};
        return ranked(small_base(), rows, rows[2]);
    }();
    return made;
}

TEST(Ranking, LimitsComeFirstThenScoreThenReworkThenNumber) {
    const Rework twists{ReworkKind::twists, 1}, limbs{ReworkKind::limbs, 2};
    const std::vector<RankedLayout> best{layout(3, 2, false, twists), layout(4, 2, false, twists),
                                         layout(2, 2, false, limbs), layout(1, 3, false), layout(0, 1, true)};
    for (std::size_t i = 1; i < best.size(); ++i) {
        EXPECT_TRUE(is_better(best[i - 1], best[i])) << i;
        EXPECT_FALSE(is_better(best[i], best[i - 1])) << i;
    }
}

TEST(Ranking, HoldsEveryRowThatCouldBeSolvedAndTheCausesOfTheOthers) {
    ASSERT_EQ(ranking().rows.size(), 7u);
    EXPECT_EQ(ranking().rows[1].number, 2);
    EXPECT_EQ(ranking().rows[1].values.size(), small_base().columns().size());
    ASSERT_EQ(ranking().failures.size(), 1u);
    EXPECT_EQ(ranking().failures[0].number, 1);
}

TEST(Ranking, ARowsLayoutAndScoreAreThoseOfItsNumberAndItsValues) {
    const Scorer scorer(small_base().study(), small_base().columns());
    for (const RankedLayout& row : ranking().rows) {
        EXPECT_EQ(small_base().product().number_of(row.layout), row.number);
        EXPECT_EQ(row.score.miss, scorer.score(row.values).miss);
    }
    EXPECT_EQ(ranking().rows[0].rework.kind, ReworkKind::limbs);  // layout 0 is not today's
}

TEST(Ranking, TheBestStandInTheirOrder) {
    ASSERT_EQ(ranking().best.size(), 7u);  // the study keeps 20
    EXPECT_TRUE(std::ranges::is_sorted(ranking().best, is_better));
}

TEST(Ranking, KeepsSoManyAsTheStudySays) {
    Study study = testing::small_study();
    study.keep = 2;
    const StudyBase base(testing::crossed_bow(), study);
    const Ranking two = ranked(base, testing::small_rows(8), {-1, {}, "not asked"});
    ASSERT_EQ(two.best.size(), 2u);
    for (const RankedLayout& row : two.rows)
        EXPECT_TRUE(row.number == two.best[0].number || is_better(two.best[0], row));
}

TEST(Ranking, TodaysLayoutNeedsNoRework) {
    EXPECT_EQ(ranking().today.rework.kind, ReworkKind::none);
    EXPECT_EQ(ranking().today.layout.pairing.top_left, 51);
}

TEST(Ranking, NothingIsSaidOfTodaysLayoutIfItCouldNotBeSolved) {
    const Ranking none = ranked(small_base(), {}, {-1, {}, "the string is slack"});
    EXPECT_EQ(none.today.failure, "the string is slack");
    ASSERT_EQ(none.today.values.size(), small_base().columns().size());
    EXPECT_TRUE(std::isnan(none.today.values[0]));
    EXPECT_TRUE(none.best.empty());
}

}  // namespace
}  // namespace limbwright::models::ranking_test
