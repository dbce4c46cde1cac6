#include "models/study/study_run.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_study.hpp"

namespace limbwright::models::study_run_test {
namespace {

using testing::small_base;

constexpr std::size_t all_layouts = 36;

/// All rows, with what the sink was given.
struct Ran {
    RankedStudy study;
    std::vector<LayoutRow> sunk;
};

Ran ran(std::vector<LayoutRow> known, int threads) {
    Ran made;
    made.study = rank_study(small_base(), {.run = {.threads = threads},
                                           .known = std::move(known),
                                           .sink = [&](std::span<const LayoutRow> rows) {
                                               made.sunk.insert(made.sunk.end(), rows.begin(), rows.end());
                                           }});
    return made;
}

const Ran& whole() {
    static const Ran made = ran({}, 2);
    return made;
}

TEST(RankedStudy, HoldsAllLayoutsAndToday) {
    ASSERT_EQ(whole().study.rows.size(), all_layouts);
    EXPECT_EQ(whole().sunk.size(), all_layouts);
    const Ranking& ranking = whole().study.ranking;
    EXPECT_EQ(ranking.rows.size() + ranking.failures.size(), all_layouts);
    EXPECT_EQ(ranking.today.number, small_base().product().number_of(testing::crossed_bow().layout));
    EXPECT_EQ(ranking.best.size(), 20u);
}

TEST(RankedStudy, DoesNotSolveWhatIsKnownAndEndsAlike) {
    const std::vector<LayoutRow>& rows = whole().study.rows;
    const Ran rest = ran({rows.begin(), rows.begin() + 30}, 1);
    EXPECT_EQ(rest.sunk.size(), 6u);
    ASSERT_EQ(rest.study.rows.size(), rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) EXPECT_EQ(rest.study.rows[i].values, rows[i].values) << i;
    EXPECT_EQ(rest.study.ranking.best[0].number, whole().study.ranking.best[0].number);
    EXPECT_TRUE(ran(rows, 1).sunk.empty());
}

TEST(RankedStudy, SolvesTodaysLayoutWhereTheStudyDoesNotHoldIt) {
    Study study = testing::small_study();
    study.limbs = {};
    study.ranges = {{"guide, lateral", {1, 2, 1}}};
    const StudyBase base(testing::crossed_bow(), study);
    const RankedStudy ranked = rank_study(base, {});
    EXPECT_EQ(ranked.rows.size(), 2u);
    EXPECT_LT(ranked.ranking.today.number, 0);
    EXPECT_EQ(ranked.ranking.today.values.size(), base.columns().size());
    EXPECT_EQ(ranked.ranking.today.failure, "");
}

TEST(RankedStudy, AStopIsThrown) {
    const std::atomic<bool> stop = true;
    EXPECT_THROW((void)rank_study(small_base(), {.run = {.stop = &stop}}), Stopped);
}

TEST(SolvedShare, IsOfItsLayoutsAlone) {
    std::vector<std::int64_t> numbers;
    const std::size_t known = solve_share(small_base(),
                                          {.known = {whole().study.rows[1], whole().study.rows[4]},
                                           .sink =
                                               [&](std::span<const LayoutRow> rows) {
                                                   for (const LayoutRow& row : rows)
                                                       numbers.push_back(row.number);
                                               }},
                                          [](std::int64_t number) { return number % 3 == 1; });
    EXPECT_EQ(numbers.size(), 10u);  // of 12, two of which were known
    for (const std::int64_t number : numbers) EXPECT_EQ(number % 3, 1);
    EXPECT_EQ(known, 12u);
}

}  // namespace
}  // namespace limbwright::models::study_run_test
