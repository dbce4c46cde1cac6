#include "postproc/results/lean_map.hpp"

#include <gtest/gtest.h>

#include <regex>
#include <stdexcept>

#include "tests/postproc/outside.hpp"
#include "tests/postproc/results/made_up_ranking.hpp"

namespace limbwright::postproc::lean_map_test {
namespace {

using testing::made_up_ranking;

struct Box {
    double x, y, width, height;
};

/// Rectangles whose look holds a pattern.
std::vector<Box> boxes(const std::string& svg, const std::string& look) {
    std::vector<Box> found;
    const std::regex box("<rect x=\"([-0-9.]+)\" y=\"([-0-9.]+)\" width=\"([0-9.]+)\" height=\"([0-9.]+)\" " +
                         look);
    for (std::sregex_iterator it(svg.begin(), svg.end(), box), end; it != end; ++it)
        found.push_back({std::stod((*it)[1]), std::stod((*it)[2]), std::stod((*it)[3]), std::stod((*it)[4])});
    return found;
}

std::vector<Box> cells(const std::string& svg) {
    return boxes(svg, "fill=\"#[0-9a-f]+\" stroke=\"#ffffff\"");
}

/// Sum of red, green and blue of every cell, in the order of drawing: bottom offset by bottom offset.
std::vector<int> brightness(const std::string& svg) {
    std::vector<int> all;
    const std::regex fill("fill=\"#(..)(..)(..)\" stroke=\"#ffffff\"");
    for (std::sregex_iterator it(svg.begin(), svg.end(), fill), end; it != end; ++it)
        all.push_back(std::stoi((*it)[1], nullptr, 16) + std::stoi((*it)[2], nullptr, 16) +
                      std::stoi((*it)[3], nullptr, 16));
    return all;
}

LeanMap two_by_two() {
    return {.title = "lean",
            .unit = "deg",
            .digits = 1,
            .top = {-1, 1},
            .bottom = {-1, 1},
            .values = {{0, 1}, {2, NAN}},
            .today = {},
            .best = {}};
}

TEST(LeanMap, HoldsTheLayoutsThatDifferFromTheBestByOffsetsAlone) {
    const RankingResults results = made_up_ranking();
    const LeanMap map = lean_map(results, 0);
    EXPECT_EQ(map.top, (std::vector<double>{-0.5, -0.25, 0, 0.25, 0.5}));
    EXPECT_EQ(map.bottom, map.top);
    // The best has the guide at 2 mm, so lean top is 0.4 × offset + 0.25.
    EXPECT_DOUBLE_EQ(map.values[3][1], 0.4 * -0.25 + 0.25);
    EXPECT_EQ(map.unit, "deg");
    EXPECT_NE(map.title.find("cam lean, top, at full draw"), std::string::npos);
}

TEST(LeanMap, OfTheScoreIsLeastAtTheBestLayout) {
    const RankingResults results = made_up_ranking();
    const LeanMap map = score_map(results);
    EXPECT_EQ(map.values[3][0], results.best[0].score.miss);
    EXPECT_EQ(map.best->top, map.top[0]);
    EXPECT_EQ(map.best->bottom, map.bottom[3]);
}

TEST(LeanMap, APairThatWasNotSolvedIsLeftOpen) {
    RankingResults results = made_up_ranking();
    results.rows.pop_back();
    EXPECT_TRUE(std::isnan(lean_map(results, 0).values[4][4]));
}

TEST(LeanMap, IsEmptyWhereNoSpacersVary) {
    RankingResults results = made_up_ranking();
    results.settings.erase(results.settings.begin());
    EXPECT_TRUE(lean_map(results, 0).values.empty());
    EXPECT_NE(to_svg(lean_map(results, 0)).find("no layouts to show"), std::string::npos);
}

TEST(LeanMapSvg, TopOffsetsRunRightAndBottomOffsetsRunUp) {
    const std::vector<Box> drawn = cells(to_svg(two_by_two()));
    ASSERT_EQ(drawn.size(), 4U);
    EXPECT_GT(drawn[1].x, drawn[0].x);
    EXPECT_EQ(drawn[1].y, drawn[0].y);
    EXPECT_LT(drawn[2].y, drawn[0].y);
}

TEST(LeanMapSvg, LargerValuesAreDarkerAndMissingOnesWhite) {
    const std::vector<int> bright = brightness(to_svg(two_by_two()));
    ASSERT_EQ(bright.size(), 4U);
    EXPECT_GT(bright[0], bright[1]);
    EXPECT_GT(bright[1], bright[2]);
    EXPECT_EQ(bright[3], 3 * 255);
}

TEST(LeanMapSvg, PrintsValuesInUpToTwelveByTwelveCells) {
    for (const std::size_t across : {2, 12, 13}) {
        std::vector<double> offsets;
        for (std::size_t i = 0; i < across; ++i) offsets.push_back(static_cast<double>(i));
        LeanMap map = two_by_two();
        map.digits = 4;  // more than the scale bar shows
        map.top = map.bottom = offsets;
        map.values.assign(across, std::vector<double>(across, -7));
        EXPECT_EQ(to_svg(map).find(">−7.0000<") != std::string::npos, across <= 12) << across;
    }
}

TEST(LeanMapSvg, TodayAndBestAreFramedInTheirCells) {
    LeanMap map = two_by_two();
    map.best = CamOffsets{1, -1};
    map.today = CamOffsets{-1, 1};
    const std::string svg = to_svg(map);
    const auto centre = [](const Box& b) { return std::pair(b.x + 0.5 * b.width, b.y + 0.5 * b.height); };
    const std::vector<Box> drawn = cells(svg);
    const std::vector<Box> best = boxes(svg, "fill=\"none\" stroke=\"#000000\" stroke-width=\"3\"");
    const std::vector<Box> today = boxes(svg, "fill=\"none\" stroke=\"#000000\" stroke-width=\"2\"");
    ASSERT_EQ(best.size(), 2U);  // in the map and in the legend
    ASSERT_EQ(today.size(), 2U);
    EXPECT_EQ(centre(best[0]), centre(drawn[1]));
    EXPECT_EQ(centre(today[0]), centre(drawn[2]));
}

TEST(LeanMapSvg, OffsetsOutsideOfTheMapAreSaidToBe) {
    LeanMap map = two_by_two();
    map.today = CamOffsets{0.125, -1};
    EXPECT_NE(to_svg(map).find("today's offsets: top 0.125, bottom −1.000 mm (not in this map)"),
              std::string::npos);
}

TEST(LeanMapSvg, AnySizeIsWellFormedAndStaysOnThePage) {
    for (const int across : {1, 2, 12, 13, 60}) {
        const std::string svg = to_svg(score_map(made_up_ranking(across)));
        const tests::Outcome parsed = tests::parsed_as_xml(svg);
        EXPECT_TRUE(parsed.succeeded) << parsed.output;
        std::smatch page;
        ASSERT_TRUE(std::regex_search(svg, page, std::regex("width=\"([0-9.]+)\" height=\"([0-9.]+)\"")));
        for (const Box& box : boxes(svg, "")) {
            EXPECT_GE(box.x, 0);
            EXPECT_LE(box.x + box.width, std::stod(page[1]));
            EXPECT_LE(box.y + box.height, std::stod(page[2]));
        }
    }
}

TEST(LeanMapSvg, RefusesValuesThatDoNotFitTheOffsets) {
    LeanMap map = two_by_two();
    map.values[1].pop_back();
    EXPECT_THROW((void)to_svg(map), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::lean_map_test
