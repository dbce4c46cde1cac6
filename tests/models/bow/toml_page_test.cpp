#include "models/bow/toml_page.hpp"

#include <gtest/gtest.h>

namespace limbwright::models::toml_page_test {
namespace {

TEST(TomlPage, TextsAreQuotedWithTheirSpecialCharactersEscaped) {
    EXPECT_EQ(quoted_text("plain"), "\"plain\"");
    EXPECT_EQ(quoted_text("a \"b\" \\ c\nd\te\x7F"), "\"a \\\"b\\\" \\\\ c\\nd\\u0009e\\u007F\"");
}

TEST(TomlPage, QuantitiesCarryTheirUnit) {
    EXPECT_EQ(length_text(25.4), "\"25.4 mm\"");
    EXPECT_EQ(quantity_text(310, units::force), "\"310 N\"");
    EXPECT_EQ(lengths_text({1, -0.0, 2.5}), "[\"1 mm\", \"0 mm\", \"2.5 mm\"]");
}

TEST(TomlPage, KeysAreQuotedWhereTheyAreNotPlainWords) {
    EXPECT_EQ(key_text("e_glass-2"), "e_glass-2");
    EXPECT_EQ(key_text("e glass"), "\"e glass\"");
    EXPECT_EQ(key_text(""), "\"\"");
}

TEST(TomlPage, NumbersAreAsShortAsTheirBitsAllow) {
    EXPECT_EQ(number_text(52), "52");
    EXPECT_EQ(number_text(0.1), "0.1");
    EXPECT_EQ(number_text(-0.0), "0");
}

TEST(TomlPage, LinesHeadingsAndComments) {
    TomlPage page;
    page.line("", "first");
    page.heading("limb", "of the bow");
    page.key("width", "1");
    page.key("length", "2", "long");
    EXPECT_EQ(page.text(), "# first\n\n[limb]  # of the bow\nwidth = 1\nlength = 2  # long\n");
}

}  // namespace
}  // namespace limbwright::models::toml_page_test
