#include "postproc/output/print_page.hpp"

#include <gtest/gtest.h>

#include "tests/postproc/report/sheets.hpp"

namespace limbwright::postproc::print_page_test {
namespace {

/// DejaVu Sans: i and dot of 278 and 318, M of 863 thousandths of an em; bold M of 996.
TEST(PrintedWidth, AddsUpAdvanceWidths) {
    EXPECT_NEAR(printed_width("i.M", 10), 14.59, 1e-9);
    EXPECT_NEAR(printed_width("M", 100, true), 99.6, 1e-9);
    EXPECT_EQ(printed_width("", 10), 0);
}

TEST(PrintedWidth, CountsALetterBeyondAsciiAsOneEm) {
    EXPECT_NEAR(printed_width("°", 10), 10, 1e-9);
    EXPECT_NEAR(printed_width("…", 10), 10, 1e-9);
}

TEST(Wrapped, LinesAreNoWiderThanAsked) {
    const std::string text = "Restore axle-to-axle, brace height and timing by twists of string and cables.";
    const std::vector<std::string> lines = wrapped(text, 120, 11);
    EXPECT_GT(lines.size(), 3u);
    std::string joined;
    for (const std::string& line : lines) {
        EXPECT_LE(printed_width(line, 11), 120);
        joined += (joined.empty() ? "" : " ") + line;
    }
    EXPECT_EQ(joined, text);
}

TEST(Wrapped, AWordThatIsTooLongIsALineOfItsOwn) {
    EXPECT_EQ(wrapped("a straightedge b", 10, 11), (std::vector<std::string>{"a", "straightedge", "b"}));
}

TEST(Page, KnowsWhereItsTextsStand) {
    Page page(200, 100);
    page.text({100, 50}, "MM", {svg::Anchor::middle, 10});
    page.text({100, 70}, "MM", {svg::Anchor::end, 10});
    ASSERT_EQ(page.boxes().size(), 2u);
    EXPECT_NEAR(page.boxes()[0].left, 100 - 8.63, 1e-9);
    EXPECT_NEAR(page.boxes()[1].right, 100, 1e-9);
    EXPECT_LT(page.boxes()[0].top, 50);
    EXPECT_GT(page.boxes()[0].bottom, 50);
    EXPECT_EQ(tests::faults(page), "");
}

TEST(Page, OfWhichATextRunsOffOrOverAnotherIsFaulty) {
    Page page(50, 100);
    page.text({40, 50}, "MM", {});
    EXPECT_NE(tests::faults(page).find("off the page"), std::string::npos);
    Page two(500, 100);
    two.text({40, 50}, "MM", {});
    two.text({45, 55}, "WW", {});
    EXPECT_NE(tests::faults(two).find("over each other"), std::string::npos);
}

TEST(Page, ParagraphsFollowEachOther) {
    Page page(300, 300);
    const double next = page.paragraph(10, 10, 100, "one two three four five six seven eight", {});
    page.paragraph(10, next, 100, "nine ten", {});
    EXPECT_EQ(tests::faults(page), "");
}

TEST(Page, IsWrittenAsSvgAndAsHtmlOfItsSize) {
    Page page = Page::a4();
    page.text({10, 20}, "spacers < 2 mm & more", {});
    const std::string svg = page.to_svg("A page"), html = page.to_html("A page");
    EXPECT_TRUE(svg.starts_with("<svg"));
    EXPECT_NE(svg.find("spacers &lt; 2 mm &amp; more"), std::string::npos);
    EXPECT_TRUE(html.starts_with("<!DOCTYPE html>"));
    EXPECT_NE(html.find("size: 210mm 297mm"), std::string::npos);
    EXPECT_NE(html.find(svg), std::string::npos);
    EXPECT_EQ(html.find("http-equiv"), std::string::npos);
}

}  // namespace
}  // namespace limbwright::postproc::print_page_test
