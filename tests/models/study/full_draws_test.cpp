#include "models/study/full_draws.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/states/measures.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::models::full_draws_test {
namespace {

using testing::small_base;

Ranking ranking_of(const StudyBase& base) {
    const std::vector<LayoutRow> rows = testing::rows_of(base, testing::first_numbers(8));
    return ranked(base, rows, rows[0]);
}

const Ranking& small_ranking() {
    static const Ranking made = ranking_of(small_base());
    return made;
}

double lean_at_full_draw(const FullDraw& full) {
    const std::vector<Measure> all = state_measures(full.strung->bow);
    return values({*find(all, "lean_top")}, full.strung->bow, full.draw).front().back();
}

double lean_at_full_draw(const StudyBase& base, const RankedLayout& row) {
    return row.values[index_of({"lean_top", DrawPlace::full_draw}, base.columns())];
}

// A draw in full and a row meet the same equations to rounding; between them lie a few forty steps.
constexpr double same = 1e-5;

TEST(FullDraws, ComeToWhatTheirRowsSay) {
    const std::vector<FullDraw> draws = full_draws(small_base(), small_ranking(), 2, 2);
    ASSERT_EQ(draws.size(), 3u);
    EXPECT_EQ(draws[0].name, "today");
    EXPECT_EQ(draws[2].name, "best 2");
    for (std::size_t i = 1; i < 3; ++i) {
        EXPECT_EQ(draws[i].failure, "");
        EXPECT_NEAR(draws[i].draw.states.back().draw, *small_base().stations().back().draw, same);
        EXPECT_NEAR(lean_at_full_draw(draws[i]), lean_at_full_draw(small_base(), small_ranking().best[i - 1]),
                    same);
    }
}

TEST(FullDraws, OfAReTimedStudyAreStrungToTodaysBrace) {
    Study study = testing::small_study();
    study.lengths = LengthRule::re_timed;
    const StudyBase base(testing::crossed_bow(), study);
    const Ranking ranking = ranking_of(base);
    const std::vector<FullDraw> draws = full_draws(base, ranking, 1);
    ASSERT_EQ(draws.at(1).failure, "");
    const StrungBow& strung = *draws[1].strung;
    EXPECT_LT(unmet_at_brace(strung.bow, strung.brace.state).norm(), 1e-6);  // stringing meets 1e-7 mm
    EXPECT_GT(std::abs(strung.lengths.string_above - base.today().lengths.string_above), 1e-3);
    EXPECT_NEAR(lean_at_full_draw(draws[1]), lean_at_full_draw(base, ranking.best[0]), same);
}

TEST(FullDraws, ALayoutThatCannotBeStrungSaysWhy) {
    Ranking ranking = small_ranking();
    ranking.best[0].layout.twist_string = 1000;  // 20 cm off each half of the string
    EXPECT_NE(full_draws(small_base(), ranking, 1).at(1).failure, "");
}

}  // namespace
}  // namespace limbwright::models::full_draws_test
