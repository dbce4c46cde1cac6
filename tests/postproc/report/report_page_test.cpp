#include "postproc/report/report_page.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace limbwright::postproc::report_page_test {
namespace {

using Json = nlohmann::ordered_json;

ReportData made_up() {
    ReportData data;
    data.bow = "Left & <b>right</b>";
    data.side = data.behind = "<svg></svg>\n";
    data.states = {{"brace", 180, 0, {}}, {"full draw", 700, 60, {}}};
    data.curves = {
        {{"draw_force", "draw force", "N", "pull", 1, {}}, "Draw force", "draw force", 1},
        {{"lean_top", "cam lean, top", "deg", "turn", 3, {}}, "Cam lean, top", "to the left", 0.2}};
    data.layouts = {
        {"today",
         "limbs top 50 | 49",
         "none",
         NAN,
         {},
         {180, 500, 700},
         {{0, 300, 60}, {0.1, 0.2, -0.5}},
         ""},
        {"1", "guide 1 mm left", "keys, 1 part", NAN, {}, {}, {}, "the string </script> is slack"}};
    data.effects = {{.title = "Kept",
                     .columns = {{"lean top", "deg", "turn", 3}},
                     .rows = {{-0.5}, {-0.0001}},
                     .text_name = "setting",
                     .texts = {"today", "bolt"}}};
    return data;
}

std::size_t count(const std::string& text, const std::string& words) {
    std::size_t n = 0;
    for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++n;
    return n;
}

bool has(const std::string& text, const std::string& words) {
    return count(text, words) > 0;
}

/// Without the scripts, whose library may hold any words.
std::string body_of(const std::string& html) {
    return html.substr(0, html.find("<script"));
}

TEST(ReportPage, AsksForNothingFromOutside) {
    const std::string html = to_html(made_up());
    for (const char* words : {"src=", "href=", "@import", "url("})
        EXPECT_FALSE(has(body_of(html), words)) << words;
    EXPECT_TRUE(has(html, "content=\"default-src 'none';"));
}

TEST(ReportPage, CarriesTheLibraryOfTheCurvesAndItsLicenceLineByLine) {
    const std::string html = to_html(made_up());
    EXPECT_TRUE(has(html, "Chart.js v"));
    EXPECT_TRUE(has(body_of(html), "\n Permission is hereby granted, free of charge"));
}

TEST(ReportPage, HoldsTheDataAsJson) {
    const ReportData data = made_up();
    const std::string html = to_html(data), begin = "<script type=\"application/json\" id=\"data\">";
    const std::size_t from = html.find(begin) + begin.size();
    EXPECT_EQ(Json::parse(html.substr(from, html.find("</script>", from) - from)), to_json(data));
}

TEST(ReportPage, NoTextEndsAScriptOrBecomesAnElement) {
    const std::string html = to_html(made_up());
    EXPECT_EQ(count(html, "</script>"), 4U);  // data, library, bow, page
    EXPECT_FALSE(has(html, "<b>right"));
    EXPECT_TRUE(has(html, "<h1>Left &amp; &lt;b&gt;right"));
}

TEST(ReportPage, TellsTheCautionAndTheWarnings) {
    ReportData data = made_up();
    data.warnings = {"a cable is slack"};
    const std::string body = body_of(to_html(data));
    EXPECT_TRUE(has(body, "qualified technician"));
    EXPECT_TRUE(has(body, "Warning: a cable is slack"));
}

TEST(ReportPage, TheTableOfLayoutsShowsTheEndsOfTheCurvesAndCausesOfFailure) {
    const std::string body = body_of(to_html(made_up()));
    EXPECT_TRUE(has(body, "<td>300.0</td><td>60.0</td><td>−0.500</td>"));
    EXPECT_TRUE(has(body, "could not be drawn: the string &lt;/script&gt; is slack"));
    EXPECT_TRUE(has(body, "<td>–</td><td>–</td><td>–</td>"));
    EXPECT_TRUE(has(body, "<td>0.000</td>"));  // no minus before what is shown as zero
}

TEST(ReportPage, AStudyShowsItsScoresAndBrokenLimits) {
    ReportData data = made_up();
    EXPECT_FALSE(has(to_html(data), ">score</th>"));
    data.study = "Rebuilds";
    data.layouts[0].score = 1.25;
    data.layouts[0].broken = {"clearance 1 mm, at least 2 mm"};
    const std::string body = body_of(to_html(data));
    EXPECT_TRUE(has(body, "the ranking of Rebuilds"));
    EXPECT_TRUE(has(body, "<td>1.2500</td>"));
    EXPECT_TRUE(has(body, "breaks a limit: clearance 1 mm"));
}

TEST(ReportPage, ATearBringsItsTextInLinesAndTheSheet) {
    ReportData data = made_up();
    EXPECT_FALSE(has(body_of(to_html(data)), "class=\"sheet\""));
    data.tear = {"first line\nsecond < line", "<svg>sheet</svg>", "Bench sheet"};
    const std::string body = body_of(to_html(data));
    EXPECT_TRUE(has(body, "<pre>first line\nsecond &lt; line\n</pre>"));
    EXPECT_TRUE(has(body, "<svg>sheet</svg>"));
}

}  // namespace
}  // namespace limbwright::postproc::report_page_test
