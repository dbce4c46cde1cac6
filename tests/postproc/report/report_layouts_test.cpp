#include "postproc/report/report_layouts.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "tests/support/small_study.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::postproc::report_layouts_test {
namespace {

using testing::crossed_bow;

const models::TuneSolver& solver() {
    static const models::TuneSolver made(crossed_bow(), 5);
    return made;
}

const std::vector<ReportLayout>& at_hand() {
    static const std::vector<ReportLayout> layouts = layouts_at_hand(solver(), 2);
    return layouts;
}

std::string change(void (*set)(models::Layout&)) {
    const models::Bow bow = crossed_bow();
    models::Layout layout = bow.layout;
    set(layout);
    return change_in_words(models::settings_of(bow), bow.layout, layout);
}

TEST(ReportLayouts, AChangeIsToldInWords) {
    EXPECT_EQ(change([](models::Layout& l) { std::swap(l.pairing.top_left, l.pairing.top_right); }),
              "limb 49 top left, limb 51 top right");
    EXPECT_EQ(change([](models::Layout& l) {
                  l.spacers_bottom = {{2.5, 2.5}, {1.5, 1.5}};
                  l.guide_lateral = 2;
              }),
              "bottom cam 1 mm right, cable guide 2 mm left");
    EXPECT_EQ(change([](models::Layout& l) { l.bolt_top = 0.5; }), "top limb bolt 0.5 turns out");
}

TEST(ReportLayouts, AtHandAreTheOtherPairingsAndSmallShifts) {
    // 12 pairings of 51, 49, 50, 50 less today's, each cam and both and the guide to either side.
    ASSERT_EQ(at_hand().size(), 1U + 11U + 8U);
    EXPECT_EQ(at_hand()[0].name, "today");
    EXPECT_EQ(at_hand()[0].rework, "none");
    std::set<std::string> changes;
    for (const ReportLayout& layout : at_hand()) changes.insert(layout.change);
    EXPECT_EQ(changes.size(), at_hand().size());
    for (const char* words : {"limb 49 top left, limb 51 top right",
                              "top cam 1 mm left, bottom cam 1 mm left", "cable guide 1 mm right"})
        EXPECT_TRUE(changes.contains(words)) << words;
}

TEST(ReportLayouts, EveryLayoutHasAllCurvesToTodaysFullDraw) {
    const ReportLayout& today = at_hand()[0];
    for (const ReportLayout& layout : at_hand()) {
        EXPECT_EQ(layout.failure, "");
        ASSERT_EQ(layout.curves.size(), 5U);
        for (const std::vector<double>& curve : layout.curves) EXPECT_EQ(curve.size(), layout.draw.size());
        EXPECT_NEAR(layout.draw.back(), today.draw.back(), 1e-6);  // prescribed
        EXPECT_TRUE(&layout == &today || layout.curves != today.curves) << layout.change;
    }
}

TEST(ReportLayouts, ACamFartherLeftLeansFartherLeftAtFullDraw) {
    const auto lean = [](const std::string& words) {
        return std::ranges::find(at_hand(), words, &ReportLayout::change)->curves[1].back();
    };
    const double today = at_hand()[0].curves[1].back();
    EXPECT_GT(lean("top cam 1 mm left"), today);
    EXPECT_LT(lean("top cam 1 mm right"), today);
}

TEST(ReportLayouts, NothingDependsOnTheNumberOfThreads) {
    const std::vector<ReportLayout> alone = layouts_at_hand(solver(), 1);
    ASSERT_EQ(alone.size(), at_hand().size());
    for (std::size_t i = 0; i < alone.size(); ++i) EXPECT_EQ(alone[i].curves, at_hand()[i].curves);
}

TEST(ReportLayouts, EveryBowHasTheCurvesWithTheirUnits) {
    for (const char* name : testing::demo_bows) {
        std::vector<std::string> units;
        for (const ReportCurve& curve : report_curves(models::assemble(testing::demo_bow(name)))) {
            units.push_back(curve.unit);
            EXPECT_NE(curve.definition, "") << name << ": " << curve.name;
        }
        EXPECT_EQ(units, (std::vector<std::string>{"N", "deg", "deg", "mm", "mm"})) << name;
    }
}

TEST(ReportLayouts, AStudysBestStandInTheirOrderBehindTodays) {
    models::StudyFile study{testing::small_study(), "crossed.toml", crossed_bow()};
    const StudiedLayouts studied = layouts_of_study(study, 3, 2);
    EXPECT_EQ(studied.study, "small study");
    EXPECT_FALSE(studied.notes.empty());
    ASSERT_EQ(studied.layouts.size(), 4U);
    EXPECT_EQ(studied.layouts[0].name, "today");
    EXPECT_EQ(studied.layouts[1].name, "1");
    EXPECT_LE(studied.layouts[1].score, studied.layouts[2].score);
    EXPECT_LE(studied.layouts[2].score, studied.layouts[3].score);
    EXPECT_LE(studied.layouts[1].score, studied.layouts[0].score);
    for (const ReportLayout& layout : studied.layouts) EXPECT_EQ(layout.failure, "");
}

TEST(ReportLayouts, AScoreIsThatOfTheCurvesThatAreShown) {
    models::StudyFile study{testing::small_study(), "crossed.toml", crossed_bow()};
    for (const ReportLayout& layout : layouts_of_study(study, 2, 2).layouts) {
        const double top = layout.curves[1].back(), bottom = layout.curves[2].back(),
                     nock = layout.curves[3].back();
        const double miss =
            std::max(0.0, std::abs(top - bottom) - 0.05) + std::max(0.0, std::abs(nock) - 0.1);
        EXPECT_NEAR(layout.score, miss, 1e-5) << layout.change;  // the two solvers agree so far
    }
}

}  // namespace
}  // namespace limbwright::postproc::report_layouts_test
