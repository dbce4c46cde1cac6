#include "postproc/results/ranking_results.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "tests/postproc/results/made_up_ranking.hpp"

namespace limbwright::postproc::ranking_results_test {
namespace {

using testing::made_up_ranking;

std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

/// The first line that starts so; empty if none does.
std::string line_of(const std::string& text, const std::string& start) {
    for (const std::string& line : lines_of(text))
        if (line.starts_with(start)) return line;
    return "";
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

TEST(RankingText, NoLineIsWiderThan100Characters) {
    RankingResults results = made_up_ranking();
    results.best[2].score.broken = {std::string(30, 'a') + " " + std::string(60, 'b') + " " +
                                    std::string(40, 'c')};
    for (int i = 0; i < 4; ++i) results.study.aims.push_back(results.study.aims[0]);
    for (const std::string& line : lines_of(to_text(results)))
        EXPECT_LE(std::count_if(line.begin(), line.end(), [](char c) { return (c & '\xC0') != '\x80'; }), 100)
            << line;
}

TEST(RankingText, ARowTellsWhatToBuildAndHowItDoes) {
    const std::string text = to_text(made_up_ranking());
    // Offsets top and bottom, guide's place and angle, score, rework, lean top and bottom.
    std::istringstream words(line_of(text, "1 "));
    std::vector<std::string> cells;
    for (std::string word; words >> word;) cells.push_back(word);
    EXPECT_EQ(cells, (std::vector<std::string>{"1", "51", "52", "/", "50.5", "50", "-0.500", "0.250", "2.00",
                                               "1.00", "0.000", "spacers", "4", "0.050", "-0.025"}));
}

TEST(RankingText, TodaysLayoutStandsAboveTheBestOnes) {
    const std::string text = to_text(made_up_ranking());
    EXPECT_FALSE(line_of(text, "today ").empty());
    EXPECT_LT(text.find("\ntoday "), text.find("\n1 "));
}

TEST(RankingText, TodaysLayoutIsRecognisedAmongTheBest) {
    RankingResults results = made_up_ranking();
    results.best[2] = results.today;
    EXPECT_FALSE(line_of(to_text(results), "3 (today)").empty());
}

TEST(RankingText, ABrokenLimitIsMarkedAndExplained) {
    const std::string text = to_text(made_up_ranking());
    EXPECT_FALSE(line_of(text, "2 !").empty());
    EXPECT_TRUE(holds(text, "  2 !: peak weight 312.4 N, at most 300 N\n")) << text;
    EXPECT_TRUE(line_of(text, "3 !").empty());
}

TEST(RankingText, TheBestLayoutIsToldInWords) {
    const std::string text = to_text(made_up_ranking());
    for (const char* part :
         {"top left: limb 51; top right: limb 52\n", "bottom left: limb 50.5; bottom right: limb 50\n",
          "top spacers: left 0.5 + 1.5 mm, right 0.5 + 0.5 mm (cam 0.5 mm to the right)\n",
          "bottom spacers: left 0.5 + 0.75 mm, right 0.5 + 1.25 mm (cam 0.25 mm to the left)\n",
          "guide, lateral: 2 mm\n", "guide, angle: 1 deg\n",
          "rework from today's layout: spacers, 4 parts\n"})
        EXPECT_TRUE(holds(text, part)) << part << "\n" << text;
}

TEST(RankingText, ASolidLimbStandsForLeftAndRight) {
    RankingResults results = made_up_ranking();
    results.bow.limb.kind = models::LimbKind::solid;
    const std::string text = to_text(results);
    EXPECT_TRUE(holds(text, "top: limb 51; bottom: limb 50.5\n")) << text;
    EXPECT_TRUE(line_of(text, "1 ").starts_with("1      51 / 50.5 ")) << text;
}

TEST(RankingText, AnEmptyStackIsNoneAndACamInTheMiddleSaysSo) {
    RankingResults results = made_up_ranking();
    results.best[0].layout.spacers_top = {};
    EXPECT_TRUE(holds(to_text(results), "top spacers: left none, right none (cam in the middle)"));
}

TEST(RankingText, TellsTheAimsWithTheirUnits) {
    RankingResults results = made_up_ranking();
    results.study.aims.push_back(
        {{"peak weight", "", models::DrawPlace::whole}, models::Wish::most, 0, 0, 0.5});
    const std::string text = to_text(results);
    EXPECT_TRUE(holds(text, "cam lean, bottom at full draw: 0 deg wanted, to within 0.05 deg, weight 2\n"))
        << text;
    EXPECT_TRUE(holds(text, "peak weight: as large as can be, weight 0.5\n")) << text;
}

TEST(RankingText, AnAimAtADifferenceShowsTheDifference) {
    RankingResults results = made_up_ranking();
    const models::Quantity unevenness{"cam lean, top", "cam lean, bottom", models::DrawPlace::full_draw};
    EXPECT_EQ(to_words(unevenness), "cam lean, top less cam lean, bottom at full draw");
    EXPECT_DOUBLE_EQ(value_of(results, unevenness, {0.5, 0.2, 300}), 0.3);
    EXPECT_EQ(column_of(results, unevenness).column.unit, "deg");
}

TEST(RankingText, FailuresAndNotesStandAtTheEnd) {
    RankingResults results = made_up_ranking();
    results.failures.resize(7, {3, "no brace found"});
    const std::string text = to_text(results);
    for (const char* part : {"Natural lengths were kept", "could not be solved: 7\n",
                             "  layout 1000: the string ran off its groove at 612 mm\n", "  and 2 more\n"})
        EXPECT_TRUE(holds(text, part)) << part << "\n" << text;
}

TEST(RankingText, NoLayoutFoundStillShowsToday) {
    RankingResults results = made_up_ranking();
    results.best.clear();
    const std::string text = to_text(results);
    EXPECT_FALSE(line_of(text, "today").empty());
    EXPECT_FALSE(holds(text, "How the best layout"));
}

TEST(RankingText, RefusesAnAimWithoutAColumn) {
    RankingResults results = made_up_ranking();
    results.study.aims[0].quantity.at = models::DrawPlace::brace;
    EXPECT_THROW((void)to_text(results), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::ranking_results_test
