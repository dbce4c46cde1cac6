#include "postproc/report/bench_sheet.hpp"

#include <gtest/gtest.h>

#include <fmt/format.h>
#include <algorithm>

#include "tests/postproc/report/sheets.hpp"

namespace limbwright::postproc::bench_sheet_test {
namespace {

using tests::crossed_cured;
using tests::yoked_cured;

bool says(const Page& page, const std::string& words) {
    std::string all;
    for (const Page::Box& box : page.boxes()) all += box.text + " ";
    return all.find(words) != std::string::npos;
}

TEST(BenchSheet, OfEveryCureFitsThePageAndKeepsItsTextsApart) {
    for (const tests::Cured* cured : {&crossed_cured(), &yoked_cured()})
        for (const models::Cure& cure : cured->cures.ranked)
            EXPECT_EQ(tests::faults(lay_out(cured->sheet(cure))), "") << cure.text;
}

/// All four limbs, all stacks, every key and twist.
TEST(BenchSheet, FitsThePageEvenIfEverythingChangesAtOnce) {
    for (const tests::Cured* cured : {&crossed_cured(), &yoked_cured()}) {
        models::Cure cure = cured->cures.ranked.back();
        cure.layout = tests::upheaval(cured->today());
        for (models::CureMeasure& m : cure.measures) m.after = -123.456;
        cure.text =
            "limb 48.25 top left, limb 52.75 top right, limb 53.5 bottom left, limb 47.125 bottom right; "
            "top cam 1.125 mm left by spacers, bottom cam 1 mm right by spacers";
        EXPECT_EQ(tests::faults(lay_out(cured->sheet(cure))), "");
    }
}

TEST(BenchSheet, TellsTearChangeStepsAndWhatToExpect) {
    const tests::Cured& c = crossed_cured();
    const models::Cure& cure = c.cures.ranked.back();
    const Page page = lay_out(c.sheet(cure));
    for (const char* words : {"Bench sheet: Marsh Heron 33", "Change: limb 49 top left, limb 51 top right.",
                              "Tear: tail left, 25 mm", "Today", "Afterwards", "measured after",
                              "axle-to-axle [mm]", "Put limb 51, from the top left pocket,"})
        EXPECT_TRUE(says(page, words)) << words;
    const auto lean =
        std::ranges::find(cure.measures, "cam lean, top, at full draw", &models::CureMeasure::name);
    EXPECT_TRUE(says(page, fmt::format("{:.2f} {:.2f}", lean->before, lean->after)));
}

TEST(BenchSheet, GivesTheCautionsOfTheTrade) {
    const Page page = lay_out(crossed_cured().sheet(crossed_cured().cures.ranked.front()));
    for (const char* words :
         {"maker's manual and a qualified technician come first", "bow press made for this bow",
          "Never dry-fire", "under load", "beyond the maker's limits", "never mix limbs"})
        EXPECT_TRUE(says(page, words)) << words;
}

TEST(BenchSheet, SaysWhatGetsWorse) {
    const tests::Cured& c = crossed_cured();
    for (const models::Cure& cure : c.cures.ranked)
        for (const models::CureMeasure& m : cure.measures)
            if (m.worse()) {
                EXPECT_TRUE(says(lay_out(c.sheet(cure)), m.name + ": ")) << cure.text;
            }
}

TEST(BenchSheet, SaysWhereStaticsDoNotExplainTheTear) {
    tests::Cured odd("crossed", "high");
    ASSERT_FALSE(odd.cures.wanted.seen);
    EXPECT_TRUE(says(lay_out(odd.sheet(odd.cures.ranked.front())), "does not explain this tear"));
}

TEST(BenchSheet, TellsHowSureItIsAndWhatToTypeAfterwards) {
    const tests::Cured& c = crossed_cured();
    models::Cure cure = c.cures.ranked.back();
    cure.answered = 0.92;
    cure.answered_sigma = 0.085;
    for (models::CureMeasure& m : cure.measures) m.after_sigma = 12.3456;
    BenchSheet sheet = c.sheet(cure);
    sheet.enter = "limbwright log my.toml my_log.toml --bench sheet_after.toml --tail left --size \"5 mm\"";
    const Page page = lay_out(sheet);
    EXPECT_EQ(tests::faults(page), "");
    for (const char* words : {"takes away 92 ± 8 % of it", " ± 12.35", "limbwright log my.toml my_log.toml"})
        EXPECT_TRUE(says(page, words)) << words;
}

}  // namespace
}  // namespace limbwright::postproc::bench_sheet_test
