#include "models/bow/table_out.hpp"

#include <gtest/gtest.h>

namespace limbwright::models::table_out_test {
namespace {

std::string written(const std::function<void(PartTable&)>& describe) {
    TomlPage page;
    TableOut file(page);
    describe(file);
    return page.text();
}

TEST(TableOut, ValuesCarryTheirUnitAndTheirComment) {
    EXPECT_EQ(written([](PartTable& t) {
                  double length = 25.4, number = -0.0;
                  Vec3 point(1, -0.0, 2.5);
                  t.quantity({"length", "end to end"}, length, units::length, {});
                  t.number({"at"}, number, {});
                  t.point({"place"}, point, {});
              }),
              "length = \"25.4 mm\"  # end to end\nat = 0\nplace = [\"1 mm\", \"0 mm\", \"2.5 mm\"]\n");
}

TEST(TableOut, AValueOutsideItsRangeThatMayBeMissingStandsForNone) {
    EXPECT_EQ(written([](PartTable& t) {
                  double fork = 0;
                  std::optional<double> gap;
                  t.quantity(if_any("fork"), fork, units::length, {.above = 0});
                  t.quantity(if_any("gap"), gap, units::length, {});
              }),
              "");
}

TEST(TableOut, TablesStandUnderAHeadingOrOnOneLine) {
    EXPECT_EQ(written([](PartTable& t) {
                  double turns = 2;
                  t.table({"layout"}, Form::section, [&](PartTable& layout) {
                      layout.table({"bolts", "out"}, Form::line,
                                   [&](PartTable& bolts) { bolts.number({"top"}, turns, {}); });
                      layout.table({"e glass"}, Form::section,
                                   [&](PartTable& inner) { inner.number({"n"}, turns, {}); });
                  });
              }),
              "\n[layout]\nbolts = { top = 2 }  # out\n\n[layout.\"e glass\"]\nn = 2\n");
}

TEST(TableOut, RowsStandOneALine) {
    std::vector<double> rows{1, 2};
    EXPECT_EQ(written([&](PartTable& t) {
                  t.rows<double>({"stations", "upward"}, rows,
                                 [](PartTable& row, double& at) { row.number({"at"}, at, {}); });
              }),
              "stations = [  # upward\n    { at = 1 },\n    { at = 2 },\n]\n");
}

TEST(TableOut, ATableThatIsNotGivenIsLeftOutAndANoteMaySayWhy) {
    EXPECT_EQ(written([](PartTable& t) {
                  t.table(if_any("brace", {}, false), Form::section, [](PartTable&) {});
                  t.left_out("brace", "as it was");
              }),
              "# as it was\n");
}

}  // namespace
}  // namespace limbwright::models::table_out_test
