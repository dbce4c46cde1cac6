#include "postproc/results/cure_results.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/postproc/report/sheets.hpp"

namespace limbwright::postproc::cure_results_test {
namespace {

using tests::crossed_cured;

models::TearAnswer answer() {
    const tests::Cured& c = crossed_cured();
    return {c.solver, c.tear, {}, models::check_practice(c.solver, c.tear), c.cures};
}

TEST(CureResults, TellReadingPracticeAndCures) {
    const std::string text = to_text(answer());
    for (const char* words :
         {"Paper tear: tail left, 22 mm\n", "tail turn, lateral [deg]", "What a static model cannot see:",
          "Common practice, held against the model", "the model agrees", "Cures, least work first",
          "1. arrow rest 2 mm left (keys, 1 part): answers", "Gets worse:", "\ntoday ", "Tried, too"})
        EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
}

TEST(CureResults, FitAHundredColumns) {
    std::istringstream text(to_text(answer()));
    for (std::string line; std::getline(text, line);)
        EXPECT_LE(std::ranges::count_if(line, [](char c) { return (c & '\xC0') != '\x80'; }), 100) << line;
}

TEST(CureResults, TellOfTheShaftWhereTheArrowIsKnown) {
    models::TearAnswer with = answer();
    EXPECT_EQ(to_text(with).find("Shaft: "), std::string::npos);
    with.shaft = models::ShaftCheck{150, 100, 1.5, models::ShaftVerdict::too_weak};
    EXPECT_NE(to_text(with).find("Shaft: too weak"), std::string::npos);
}

TEST(CureResults, SayItPlainlyWhereNothingHelps) {
    models::TearAnswer none = answer();
    none.cures.ranked.clear();
    EXPECT_NE(to_text(none).find("No change within reach answers this tear."), std::string::npos);
}

TEST(CureResults, AsJsonHoldEveryMeasureAndTheSteps) {
    const nlohmann::ordered_json json = to_json(answer());
    EXPECT_EQ(json["schema"], "limbwright cure");
    EXPECT_EQ(json["tear"]["left_mm"], 22);
    ASSERT_EQ(json["cures"].size(), crossed_cured().cures.ranked.size());
    const auto& last = json["cures"].back();
    EXPECT_EQ(last["tune"]["limbs"]["top_right"], 51);
    EXPECT_EQ(last["measures"].size(), crossed_cured().cures.ranked.back().measures.size());
    EXPECT_GT(last["steps"].size(), 5u);
    EXPECT_EQ(json["practice"].size(), 3u);
}

}  // namespace
}  // namespace limbwright::postproc::cure_results_test
