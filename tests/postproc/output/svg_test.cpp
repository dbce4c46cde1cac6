#include "postproc/output/svg.hpp"

#include <gtest/gtest.h>

#include "tests/postproc/outside.hpp"

namespace limbwright::postproc::svg::svg_test {
namespace {

TEST(Svg, EscapesWhatXmlReservesAndDropsControlCharacters) {
    EXPECT_EQ(escaped("a<b & \"c\">\x01ö"), "a&lt;b &amp; &quot;c&quot;&gt;ö");
}

TEST(Svg, NumbersHaveNoTrailingZerosAndNoNegativeZero) {
    EXPECT_EQ(number(12.50), "12.5");
    EXPECT_EQ(number(100), "100");
    EXPECT_EQ(number(-0.001), "0");
    EXPECT_EQ(number(3.14159, 3), "3.142");
}

TEST(Svg, PointsAreJoinedByBlanks) {
    EXPECT_EQ(point_list({{0, 1}, {2.25, -3}}), "0,1 2.25,-3");
}

TEST(Svg, WidthCountsCharactersAndNotBytes) {
    EXPECT_EQ(text_width("öµ°"), text_width("abc"));
}

TEST(Svg, DocumentIsWellFormedWhateverTheTextsSay) {
    const std::string nasty = "<&>\"']]>\x02";
    const std::string file = document(
        100, 50, nasty, text({1, 2}, nasty, {.upward = true}) + line({0, 0}, {1, 1}, "#000000", 1, "2 3"));
    const tests::Outcome parsed = tests::parsed_as_xml(file);
    EXPECT_TRUE(parsed.succeeded) << parsed.output << file;
}

}  // namespace
}  // namespace limbwright::postproc::svg::svg_test
