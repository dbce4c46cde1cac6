#include "postproc/results/ranking_views.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "tests/postproc/outside.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::postproc::ranking_views_test {
namespace {

const Curve today{"today", {200, 300, 400}, {1, 3, 2}};
const Curve best{"best", {250, 350, 450}, {4, 6, 0}};

TEST(RankingViews, EveryNockTravelBeginsAtZeroAndIsNamed) {
    const Plot plot = compared_nock_travel({today, best});
    ASSERT_EQ(plot.panels.size(), 1U);
    EXPECT_EQ(plot.panels[0].curves.at(0).y, (std::vector<double>{0, 2, 1}));
    EXPECT_EQ(plot.panels[0].curves.at(1).y, (std::vector<double>{0, 2, -4}));
    EXPECT_EQ(plot.panels[0].curves.at(1).name, "best");
    EXPECT_EQ(plot.panels[0].y.unit, "mm");
}

TEST(RankingViews, DrawForcesStandInOnePanelAsTheyAre) {
    const Plot plot = compared_draw_force({today, best});
    EXPECT_EQ(plot.panels.at(0).curves.at(1).y, best.y);
    EXPECT_EQ(plot.panels.at(0).curves.at(1).name, "best");
}

TEST(RankingViews, DifferencesAreTakenAtTheFirstCurvesDraws) {
    const Panel panel = compared_draw_force({today, best}).panels.at(1);
    EXPECT_EQ(panel.title, "Difference from today");
    EXPECT_EQ(panel.curves.at(0).y, (std::vector<double>{0, 0, 0}));
    const Curve& less = panel.curves.at(1);
    EXPECT_EQ(less.x, today.x);
    EXPECT_TRUE(std::isnan(less.y[0]));  // the best one starts at 250
    EXPECT_DOUBLE_EQ(less.y[1], 5 - 3);
    EXPECT_DOUBLE_EQ(less.y[2], 3 - 2);
}

TEST(RankingViews, ForgivenessOfYawAndOfNockTravelStandOneBelowTheOtherUnderOneLegend) {
    const Plot plot = compared_forgiveness({today, best}, {best, today});
    ASSERT_EQ(plot.panels.size(), 2U);
    EXPECT_EQ(plot.panels[0].curves.at(1).name, "best");
    EXPECT_EQ(plot.panels[1].curves.at(0).y, best.y);
    EXPECT_EQ(plot.panels[1].curves.at(0).name, "");
    EXPECT_NE(plot.panels[0].y.unit, plot.panels[1].y.unit);
}

TEST(RankingViews, AreWellFormedWithOrWithoutCurves) {
    for (const std::vector<Curve>& curves : {std::vector<Curve>{}, {today, best}, {{"none", {}, {}}}})
        for (const Plot& plot : {compared_nock_travel(curves), compared_draw_force(curves),
                                 compared_forgiveness(curves, curves)}) {
            const tests::Outcome parsed = tests::parsed_as_xml(to_svg(plot));
            EXPECT_TRUE(parsed.succeeded) << parsed.output;
        }
}

TEST(RankingViews, RefuseACurveWithFewerYThanX) {
    EXPECT_THROW((void)compared_draw_force({today, {"short", {1, 2}, {1}}}), std::invalid_argument);
    EXPECT_THROW((void)compared_draw_force({{"short", {1, 2}, {1}}}), std::invalid_argument);
}

TEST(RankingViews, CurvesAreOfDrawsThatCameToTheirEndAndOfMeasuresThatTheBowHas) {
    models::Ranking ranking;
    ranking.best.resize(1);
    ranking.best[0].layout = testing::crossed_bow().layout;
    ranking.best[0].layout.twist_string = 1000;  // 20 cm off each half of the string
    const std::vector<models::FullDraw> draws = models::full_draws(testing::small_base(), ranking, 1);
    ASSERT_EQ(draws.size(), 2u);
    EXPECT_TRUE(curves_of(draws, "no_such_measure").empty());
    const std::vector<Curve> force = curves_of(draws, "draw_force");
    ASSERT_EQ(force.size(), 1u);
    EXPECT_EQ(force[0].name, "today");
    EXPECT_EQ(force[0].x.size(), force[0].y.size());
}

}  // namespace
}  // namespace limbwright::postproc::ranking_views_test
