#include "models/study/ranking.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_study.hpp"

namespace limbwright::models::ranking_test {
namespace {

Standing standing(std::int64_t number, double miss, bool broken, Rework rework = {}) {
    return {number,
            {miss, {}, broken ? std::vector<std::string>{"clearance"} : std::vector<std::string>{}},
            rework};
}

std::vector<std::int64_t> numbers_of(const std::vector<Standing>& standings) {
    std::vector<std::int64_t> numbers;
    for (const Standing& s : standings) numbers.push_back(s.number);
    return numbers;
}

TEST(Ranking, LimitsComeFirstThenScoreThenReworkThenNumber) {
    const Rework twists{Work::cables, 1}, limbs{Work::limbs, 2};
    const std::vector<Standing> best =
        best_of({standing(0, 1, true), standing(1, 3, false), standing(2, 2, false, limbs),
                 standing(4, 2, false, twists), standing(3, 2, false, twists)},
                5);
    EXPECT_EQ(numbers_of(best), (std::vector<std::int64_t>{3, 4, 2, 1, 0}));
}

TEST(Ranking, KeepsSoManyAsAreWantedOrThereAre) {
    const std::vector<Standing> all{standing(0, 2, false), standing(1, 1, false)};
    EXPECT_EQ(numbers_of(best_of(all, 1)), (std::vector<std::int64_t>{1}));
    EXPECT_EQ(best_of(all, 9).size(), 2u);
}

TEST(Ranking, TodaysLayoutIsFoundInItsProduct) {
    const Bow bow = testing::crossed_bow();
    const Study study = testing::small_study();
    const Product product(bow, study);
    const std::optional<std::int64_t> number = number_of_today(bow, study, product);
    ASSERT_TRUE(number.has_value());
    EXPECT_EQ(rework(settings_of(bow), bow.layout, product.layout(*number)).work, Work::none);
}

TEST(Ranking, TodaysLayoutIsNotFoundWhereItCannotBe) {
    const Bow bow = testing::crossed_bow();
    Study study = testing::small_study();
    study.ranges = {{"guide, lateral", {5, 7, 1}}};
    EXPECT_EQ(number_of_today(bow, study, Product(bow, study)), std::nullopt);
    study = testing::small_study();
    study.limbs = {48, 48, 48, 48};
    EXPECT_EQ(number_of_today(bow, study, Product(bow, study)), std::nullopt);
}

TEST(Ranking, RowsThatFailedHaveNoStanding) {
    const Bow bow = testing::crossed_bow();
    Study study = testing::small_study();
    study.aims = {{.quantity = {"axle-to-axle", "", DrawPlace::whole}, .target = 800}};
    const Scorer scorer(study, {{"axle-to-axle", "mm", DrawPlace::whole}});
    const std::vector<LayoutRow> rows{{0, {801}, ""}, {1, {}, "slack"}, {2, {804}, ""}};
    const std::vector<Standing> all = standings(rows, scorer, Product(bow, study), bow);
    ASSERT_EQ(numbers_of(all), (std::vector<std::int64_t>{0, 2}));
    EXPECT_DOUBLE_EQ(all[1].score.miss, 4);
    EXPECT_EQ(all[0].rework.work, Work::limbs);  // layout 0 is not today's
}

}  // namespace
}  // namespace limbwright::models::ranking_test
