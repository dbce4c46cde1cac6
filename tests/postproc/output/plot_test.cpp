#include "postproc/output/plot.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <regex>
#include <set>
#include <stdexcept>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::plot_test {
namespace {

/// The number in an attribute of the first element that matches.
double attribute(const std::string& svg, const std::string& pattern) {
    std::smatch found;
    EXPECT_TRUE(std::regex_search(svg, found, std::regex(pattern))) << pattern;
    return found.empty() ? NAN : std::stod(found[1]);
}

std::vector<std::vector<std::array<double, 2>>> polylines(const std::string& svg) {
    std::vector<std::vector<std::array<double, 2>>> lines;
    const std::regex line("<polyline points=\"([^\"]*)\"");
    for (std::sregex_iterator it(svg.begin(), svg.end(), line), end; it != end; ++it) {
        lines.emplace_back();
        std::istringstream points((*it)[1]);
        double x = 0, y = 0;
        for (char comma = 0; points >> x >> comma >> y;) lines.back().push_back({x, y});
    }
    return lines;
}

Plot plot_of(const std::vector<Curve>& curves) {
    return {.title = "Draw <curve>", .panels = {{"", {"draw", "mm"}, {"force", "N"}, curves}}};
}

int count(const std::string& text, const std::string& part) {
    int found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
    return found;
}

TEST(Scale, StepsAreOneTwoOrFiveTimesAPowerOfTen) {
    EXPECT_DOUBLE_EQ(scale_for({0, 10}, 0, 5, true).step, 2);
    EXPECT_DOUBLE_EQ(scale_for({0, 0.3}, 0, 6, true).step, 0.05);
    EXPECT_DOUBLE_EQ(scale_for({-300, 272}, 0, 5, true).step, 100);
}

TEST(Scale, RoundedOutEndsStandOnTicksAndHoldAllValues) {
    const Scale scale = scale_for({-0.013, 0.024, NAN}, 0, 5, true);
    EXPECT_NEAR(scale.low, -0.015, 1e-15);  // rounding
    EXPECT_NEAR(scale.high, 0.025, 1e-15);
}

TEST(Scale, ExactEndsStayWhereTheValuesEnd) {
    const Scale scale = scale_for({0, 512.5}, 0, 6, false);
    EXPECT_EQ(scale.low, 0);
    EXPECT_EQ(scale.high, 512.5);
}

TEST(Scale, ShowsAtLeastTheSpanAskedForSoThatNoiseStaysFlat) {
    const Scale scale = scale_for({1e-14, -2e-14}, 0.1, 5, true);
    EXPECT_LE(scale.low, -0.05);
    EXPECT_GE(scale.high, 0.05);
}

TEST(Scale, AConstantOrNothingStillGivesARange) {
    for (const std::vector<double>& values :
         {std::vector<double>{}, {NAN}, {0}, {7, 7}, {-1e9}, {INFINITY}}) {
        const Scale scale = scale_for(values, 0, 5, true);
        EXPECT_LT(scale.low, scale.high);
        EXPECT_GT(scale.step, 0);
        EXPECT_LT((scale.high - scale.low) / scale.step, 20);
    }
}

TEST(Plot, PutsEachPointWhereTheGridLinesSayItIs) {
    // Both scales run from 0 to 100: low and high stand on the frame, the middle in its middle.
    const std::string svg = to_svg(plot_of({{"", {0, 50, 100}, {0, 100, 50}}}));
    const auto lines = polylines(svg);
    ASSERT_EQ(lines.size(), 1);
    ASSERT_EQ(lines[0].size(), 3);
    const std::string frame =
        "<line x1=\"([0-9.]+)\" y1=\"[0-9.]+\" x2=\"[0-9.]+\" y2=\"[0-9.]+\" stroke=\"#888888\"";
    const double left = attribute(svg, frame);
    const double right = attribute(
        svg, "<line x1=\"[0-9.]+\" y1=\"[0-9.]+\" x2=\"([0-9.]+)\" y2=\"[0-9.]+\" stroke=\"#888888\"");
    const double bottom = attribute(
        svg, "<line x1=\"[0-9.]+\" y1=\"([0-9.]+)\" x2=\"[0-9.]+\" y2=\"[0-9.]+\" stroke=\"#888888\"");
    const double rounding = 0.011;  // coordinates have two digits
    EXPECT_NEAR(lines[0][0][0], left, rounding);
    EXPECT_NEAR(lines[0][0][1], bottom, rounding);
    EXPECT_NEAR(lines[0][1][0], 0.5 * (left + right), rounding);
    EXPECT_NEAR(lines[0][2][0], right, rounding);
    EXPECT_NEAR(lines[0][2][1], 0.5 * (bottom + lines[0][1][1]), rounding);
}

TEST(Plot, NanInterruptsTheLine) {
    const auto lines = polylines(to_svg(plot_of({{"", {0, 1, 2, 3, 4, 5}, {1, 2, NAN, NAN, 5, 6}}})));
    ASSERT_EQ(lines.size(), 2);
    EXPECT_EQ(lines[0].size(), 2);
    EXPECT_EQ(lines[1].size(), 2);
}

TEST(Plot, ASinglePointIsADot) {
    const std::string svg = to_svg(plot_of({{"", {1}, {2}}}));
    EXPECT_EQ(count(svg, "<circle"), 1);
    EXPECT_EQ(polylines(svg).size(), 0);
}

TEST(Plot, FiftyCurvesAllLookDifferent) {
    std::vector<Curve> curves;
    for (int c = 0; c < 50; ++c) curves.push_back({"", {0, 1}, {0, double(c)}});
    const std::string svg = to_svg(plot_of(curves));
    std::set<std::string> looks;
    const std::regex look("<polyline points=\"[^\"]*\"([^>]*)");
    for (std::sregex_iterator it(svg.begin(), svg.end(), look), end; it != end; ++it) looks.insert((*it)[1]);
    EXPECT_EQ(looks.size(), 50);
}

TEST(Plot, NamesCurvesAxesAndUnits) {
    const std::string svg = to_svg(plot_of({{"top & bottom", {0, 1}, {0, 1}}}));
    for (const char* text : {">top &amp; bottom<", ">draw [mm]<", ">force [N]<", ">Draw &lt;curve&gt;<"})
        EXPECT_NE(svg.find(text), std::string::npos) << text;
}

TEST(Plot, TicksOfNegativeNumbersCarryARealMinus) {
    const std::string svg = to_svg(plot_of({{"", {0, 1}, {-2, 2}}}));
    EXPECT_NE(svg.find(">−2<"), std::string::npos);
    EXPECT_NE(svg.find(">0<"), std::string::npos);
}

TEST(Plot, SeveralPanelsStandInRows) {
    Plot plot = plot_of({{"", {0, 1}, {0, 1}}});
    plot.title = "";
    plot.panels = {plot.panels[0], plot.panels[0], plot.panels[0]};
    plot.panels_across = 2;
    const std::string svg = to_svg(plot);
    EXPECT_EQ(attribute(svg, "width=\"([0-9.]+)\""), 2 * plot.panel_width);
    EXPECT_EQ(attribute(svg, "height=\"([0-9.]+)\""), 2 * plot.panel_height);
    const auto lines = polylines(svg);
    ASSERT_EQ(lines.size(), 3);
    EXPECT_NEAR(lines[1][0][0] - lines[0][0][0], plot.panel_width, 0.011);
    EXPECT_NEAR(lines[2][0][1] - lines[0][0][1], plot.panel_height, 0.011);
}

TEST(Plot, IsWellFormed) {
    Plot plot = plot_of({{"a\"<&", {0, 1, NAN}, {-1e-7, 1e7, 3}}, {"", {}, {}}});
    plot.panels.push_back({"empty", {"x", ""}, {"y", ""}, {}});
    const tests::Outcome parsed = tests::parsed_as_xml(to_svg(plot));
    EXPECT_TRUE(parsed.succeeded) << parsed.output;
}

TEST(Plot, RefusesACurveWithFewerYThanX) {
    EXPECT_THROW((void)to_svg(plot_of({{"", {0, 1}, {0}}})), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::plot_test
