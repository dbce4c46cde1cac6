#include "postproc/results/full_draws.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "postproc/results/study_results.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::postproc::full_draws_test {
namespace {

using testing::crossed_bow;
using testing::small_base;

RankingResults results_from(const models::Study& study, const models::StudyBase& base) {
    const std::vector<models::LayoutRow> rows = testing::rows_of(base, testing::first_numbers(8));
    return results_of({study, "crossed.toml", crossed_bow()}, base, rows, rows[0]);
}

const RankingResults& small_results() {
    static const RankingResults results = results_from(testing::small_study(), small_base());
    return results;
}

double last_value(const std::vector<FullDraw>& draws, std::size_t which, const std::string& measure) {
    return curves_of(draws, measure).at(which).y.back();
}

std::size_t column_of(const models::StudyBase& base, const std::string& measure) {
    return models::index_of({measure, models::DrawPlace::full_draw}, base.columns());
}

// A draw in full and a row meet the same equations to rounding; between them lie a few forty steps.
constexpr double same = 1e-5;

TEST(BestDraws, ComeToWhatTheirRowsSay) {
    const std::vector<FullDraw> draws = full_draws(small_base(), small_results(), 2);
    ASSERT_EQ(draws.size(), 3u);
    EXPECT_EQ(draws[0].name, "today");
    EXPECT_EQ(draws[2].name, "best 2");
    const std::size_t lean = column_of(small_base(), "lean_top");
    for (std::size_t i = 1; i < 3; ++i) {
        EXPECT_EQ(draws[i].failure, "");
        EXPECT_NEAR(draws[i].draw.states.back().draw, *small_base().stations().back().draw, same);
        EXPECT_NEAR(last_value(draws, i, "lean_top"), small_results().best[i - 1].values[lean], same);
    }
}

TEST(BestDraws, OfAReTimedStudyAreStrungToTodaysBrace) {
    models::Study study = testing::small_study();
    study.lengths = models::LengthRule::re_timed;
    const models::StudyBase base(crossed_bow(), study);
    const RankingResults results = results_from(study, base);
    const std::vector<FullDraw> draws = full_draws(base, results, 1);
    ASSERT_EQ(draws.at(1).failure, "");
    const models::StrungBow& strung = *draws[1].strung;
    EXPECT_LT(models::unmet_at_brace(strung.bow, strung.brace.state).norm(),
              1e-6);  // stringing meets 1e-7 mm
    EXPECT_GT(std::abs(strung.lengths.string_above - base.today().lengths.string_above), 1e-3);
    EXPECT_NEAR(last_value(draws, 1, "lean_top"), results.best[0].values[column_of(base, "lean_top")], same);
}

TEST(BestDraws, CurvesOfAMeasureThatTheBowLacksAreNone) {
    const std::vector<FullDraw> draws = full_draws(small_base(), small_results(), 0);
    EXPECT_EQ(draws.size(), 1u);
    EXPECT_TRUE(curves_of(draws, "no such measure").empty());
    const std::vector<Curve> force = curves_of(draws, "draw_force");
    ASSERT_EQ(force.size(), 1u);
    EXPECT_EQ(force[0].x.size(), force[0].y.size());
}

TEST(BestDraws, ALayoutThatCannotBeStrungSaysWhyAndHasNoCurve) {
    RankingResults results = small_results();
    results.best[0].layout.twist_string = 1000;  // 20 cm off each half of the string
    const std::vector<FullDraw> draws = full_draws(small_base(), results, 1);
    EXPECT_NE(draws.at(1).failure, "");
    EXPECT_EQ(curves_of(draws, "draw_force").size(), 1u);
}

TEST(BestDraws, ForgivenessIsToldOfTodayAndTheBest) {
    const Table table = forgiveness_table(small_results(), 2);
    EXPECT_EQ(table.texts, (std::vector<std::string>{"today", "best 1", "best 2"}));
    ASSERT_EQ(table.columns.size(), 2u);
    EXPECT_EQ(table.rows[1][0],
              small_results().best[0].values[column_of(small_base(), "forgiveness_arrow_yaw")]);
    EXPECT_EQ(table.rows[0][1],
              small_results().today.values[column_of(small_base(), "forgiveness_nock_travel")]);
}

}  // namespace
}  // namespace limbwright::postproc::full_draws_test
