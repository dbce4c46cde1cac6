#include "models/input/table_reader.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace limbwright::models::table_reader_test {
namespace {

using namespace literals;

std::string said(Document& document) {
    std::string text;
    for (const Complaint& complaint : document.complaints().all()) text += sentence(complaint) + "\n";
    return text;
}

/// What reading the key "width" as a length between 10 mm and 80 mm says.
std::string width_said(const std::string& text) {
    Document document(text, "f.toml");
    const double width =
        TableReader(document).quantity("width", units::length, {.at_least = 10.0_mm, .at_most = 80.0_mm});
    EXPECT_TRUE(std::isnan(width)) << text;
    return said(document);
}

TEST(TableReader, AQuantityLeavesInOurUnit) {
    Document document("width = \"1 in\"", "f.toml");
    EXPECT_DOUBLE_EQ(TableReader(document).quantity("width", units::length), 25.4);
    EXPECT_EQ(said(document), "");
}

TEST(TableReader, ABareNumberIsToldToNeedAUnitWithAnExample) {
    EXPECT_EQ(width_said("width = 45"),
              "f.toml:1:9: width needs a unit, such as \"45 mm\" or \"1.75 in\", but is 45\n");
    EXPECT_EQ(width_said("width = \"45\""),
              "f.toml:1:9: width needs a unit, such as \"45 mm\" or \"1.75 in\", but is \"45\"\n");
}

TEST(TableReader, AQuantityOfAnotherKindIsToldWhatItIs) {
    EXPECT_EQ(
        width_said("width = \"45 lbf\""),
        "f.toml:1:9: width must be a length such as \"45 mm\" or \"1.75 in\", but is \"45 lbf\", a force\n");
}

TEST(TableReader, AnUnknownUnitIsRefused) {
    EXPECT_EQ(width_said("width = \"45 ells\""),
              "f.toml:1:9: width must be a length such as \"45 mm\" or \"1.75 in\", but is \"45 ells\"\n");
}

TEST(TableReader, AWrongTypeIsToldByItsName) {
    EXPECT_EQ(width_said("width = true"),
              "f.toml:1:9: width must be a length such as \"45 mm\" or \"1.75 in\", but is true\n");
    EXPECT_EQ(width_said("width = [1, 2]"),
              "f.toml:1:9: width must be a length such as \"45 mm\" or \"1.75 in\", but is a list\n");
}

TEST(TableReader, AValueOutsideItsRangeIsToldInOurUnitAndAsWritten) {
    EXPECT_EQ(width_said("width = \"4.5 mm\""),
              "f.toml:1:9: width must lie between 10 mm and 80 mm, but is 4.5 mm\n");
    EXPECT_EQ(width_said("width = \"0.1 in\""),
              "f.toml:1:9: width must lie between 10 mm and 80 mm, but is 2.54 mm (\"0.1 in\")\n");
}

TEST(TableReader, NotANumberAndInfinityAreRefused) {
    EXPECT_EQ(width_said("width = \"nan mm\""),
              "f.toml:1:9: width must lie between 10 mm and 80 mm, but is nan mm\n");
    Document document("a = \"inf N\"\nb = nan", "f.toml");
    TableReader table(document);
    EXPECT_TRUE(std::isnan(table.quantity("a", units::force)));
    EXPECT_TRUE(std::isnan(table.number("b")));
    EXPECT_EQ(said(document),
              "f.toml:1:5: a must be finite, but is inf N\nf.toml:2:5: b must be finite, but is nan\n");
}

TEST(TableReader, AMissingKeyIsToldWhereItsTableBegins) {
    Document document("x = 1\n[limb]\ny = 2", "f.toml");
    (void)TableReader(document).table("limb").quantity("width", units::length);
    EXPECT_EQ(said(document),
              "f.toml:2:1: limb.width is missing; it must be a length such as \"45 mm\" or \"1.75 in\"\n");
}

TEST(TableReader, AMissingTableIsOneComplaint) {
    Document document("", "f.toml");
    TableReader limb = TableReader(document).table("limb");
    EXPECT_FALSE(limb.present());
    EXPECT_TRUE(std::isnan(limb.quantity("width", units::length)));
    EXPECT_TRUE(std::isnan(limb.point("at").x()));
    EXPECT_EQ(limb.text("name"), "");
    EXPECT_TRUE(limb.tables("stations").empty());
    EXPECT_EQ(said(document), "f.toml:1:1: limb is missing; it must be a table of its own\n");
}

TEST(TableReader, OpenRangesAreToldInWords) {
    Document document("a = 0\nb = 1.5\nc = -1\nd = 9", "f.toml");
    TableReader table(document);
    (void)table.number("a", {.above = 0});
    (void)table.number("b", {.above = 0, .at_most = 1});
    (void)table.number("c", {.at_least = 0});
    (void)table.number("d", {.at_most = 3});
    EXPECT_EQ(said(document),
              "f.toml:1:5: a must be above 0, but is 0\n"
              "f.toml:2:5: b must be above 0 and at most 1, but is 1.5\n"
              "f.toml:3:5: c must be at least 0, but is -1\n"
              "f.toml:4:5: d must be at most 3, but is 9\n");
}

TEST(TableReader, AQuantityWhereAPlainNumberStandsIsRefused) {
    Document document("a = \"3 mm\"", "f.toml");
    (void)TableReader(document).number("a");
    EXPECT_EQ(said(document), "f.toml:1:5: a must be a plain number, but is \"3 mm\"\n");
}

TEST(TableReader, FallbacksStandForMissingKeysOnly) {
    Document document("a = \"3 mm\"\nb = 4", "f.toml");
    TableReader table(document);
    EXPECT_EQ(table.quantity_or("a", 1, units::length), 3);
    EXPECT_EQ(table.quantity_or("z", 1, units::length), 1);
    EXPECT_EQ(table.number_or("b", 1), 4);
    EXPECT_EQ(table.number_or("z", 1), 1);
    EXPECT_FALSE(table.optional_quantity("z", units::length));
    EXPECT_EQ(table.text_or("z", "none"), "none");
    EXPECT_EQ(said(document), "");
}

TEST(TableReader, WholeNumbersAreWholeAndWithinBounds) {
    Document document("a = 4\nb = 4.5\nc = 99", "f.toml");
    TableReader table(document);
    EXPECT_EQ(table.whole_number_or("a", 7, 2, 9), 4);
    EXPECT_EQ(table.whole_number_or("b", 7, 2, 9), 7);
    EXPECT_EQ(table.whole_number_or("c", 7, 2, 9), 7);
    EXPECT_EQ(said(document),
              "f.toml:2:5: b must be a whole number between 2 and 9, but is 4.5\n"
              "f.toml:3:5: c must be a whole number between 2 and 9, but is 99\n");
}

TEST(TableReader, PointsAreListsOfLengths) {
    Document document("p = [\"1 mm\", \"1 in\", \"-3 mm\"]\nq = [\"1 mm\"]\nr = [\"1 mm\", 2]", "f.toml");
    TableReader table(document);
    EXPECT_EQ(table.point("p"), solver::Vec3(1, 25.4, -3));
    (void)table.plane_point("q");
    (void)table.plane_point("r");
    EXPECT_EQ(said(document),
              "f.toml:2:5: q must be two lengths such as [\"3 mm\", \"-8 mm\"], but is a list of 1\n"
              "f.toml:3:14: r[1] needs a unit, such as \"45 mm\" or \"1.75 in\", but is 2\n");
}

TEST(TableReader, AListOfWrongSizeIsRefused) {
    Document document("a = [1, 2]\nb = [1, 2, 3]\nc = 4", "f.toml");
    TableReader table(document);
    EXPECT_EQ(table.numbers_or("a", {0, 0}, 2), (std::vector<double>{1, 2}));
    EXPECT_EQ(table.numbers_or("b", {0, 0}, 2), (std::vector<double>{0, 0}));
    EXPECT_EQ(table.numbers_or("c", {0, 0}, 2), (std::vector<double>{0, 0}));
    EXPECT_EQ(said(document),
              "f.toml:2:5: b must be a list of 2 plain numbers, but is a list of 3\n"
              "f.toml:3:5: c must be a list of plain numbers, but is 4\n");
}

TEST(TableReader, AWrongNameListsThoseAllowed) {
    Document document("a = \"two\"\nb = \"three\"", "f.toml");
    TableReader table(document);
    constexpr std::array numbers{Choice<int>{"one", 1}, Choice<int>{"two", 2}};
    EXPECT_EQ(table.choice<int>("a", numbers), 2);
    EXPECT_EQ(table.choice<int>("b", numbers), 1);
    EXPECT_EQ(said(document), "f.toml:2:5: b must be one of \"one\", \"two\", but is \"three\"\n");
}

TEST(TableReader, ATableTellsItsKeys) {
    Document document("[part]\nwidth = 1\nat = { x = 2 }\n", "f.toml");
    TableReader file(document);
    EXPECT_EQ(file.table("part").keys(), (std::vector<std::string>{"at", "width"}));
    EXPECT_TRUE(file.table_if_any("other").keys().empty());
}

TEST(TableReader, TablesInAListAreNumberedFromZero) {
    Document document("s = [{ at = 1 }, 2, { at = \"x\" }]", "f.toml");
    std::vector<TableReader> stations = TableReader(document).tables("s");
    ASSERT_EQ(stations.size(), 3u);
    EXPECT_EQ(stations[0].number("at"), 1);
    (void)stations[2].number("at");
    EXPECT_EQ(said(document),
              "f.toml:1:18: s[1] must be a table { ... }, but is 2\n"
              "f.toml:1:28: s[2].at must be a plain number, but is \"x\"\n");
}

}  // namespace
}  // namespace limbwright::models::table_reader_test
