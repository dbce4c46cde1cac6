#include "postproc/output/table.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

namespace limbwright::postproc::table_test {
namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

int characters(const std::string& text) {
    return static_cast<int>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & '\xC0') != '\x80'; }));
}

Table small_table() {
    return {.title = "Draw",
            .columns = {{"draw", "mm", "from brace", 1}, {"cam lean top", "°", "positive left", 3}},
            .rows = {{0, -0.25}, {500, NAN}},
            .text_name = "",
            .texts = {}};
}

Table wide_table(int columns) {
    Table table;
    std::vector<double> row;
    for (int c = 0; c < columns; ++c) {
        table.columns.push_back({"measure " + std::to_string(c), "N·m", "", 2});
        row.push_back(c);
    }
    table.rows = {row, row, row};
    return table;
}

TEST(Table, AlignsNumbersUnderNamesAndUnits) {
    EXPECT_EQ(to_text(small_table()),
              "Draw\n"
              "\n"
              "       cam lean\n"
              " draw       top\n"
              " [mm]       [°]\n"
              "-----  --------\n"
              "  0.0    -0.250\n"
              "500.0         -\n");
}

TEST(Table, WordsMayStandInPlaceOfNumbers) {
    Table table = small_table();
    table.columns[0] = {.name = "state", .unit = "", .definition = "", .words = {"brace", "full draw"}};
    const std::vector<std::string> lines = lines_of(to_text(table));
    EXPECT_EQ(lines[6], "brace        -0.250");
    EXPECT_EQ(lines[7], "full draw         -");
    EXPECT_EQ(to_json(table)["rows"][1][0], "full draw");
    table.columns[0].words.pop_back();
    EXPECT_THROW((void)to_text(table), std::invalid_argument);
}

TEST(Paragraph, FillsLinesOf100CharactersAndIndentsAllButTheFirst) {
    std::string text;
    for (int i = 0; i < 30; ++i) text += "word ";
    const std::vector<std::string> lines = lines_of(paragraph(text, 4));
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_EQ(lines[0].size(), 19 * 5 - 1);  // 96 characters are left of 100
    EXPECT_EQ(lines[1], "    word word word word word word word word word word word");
}

TEST(Table, StartsWithTheLabelsWhereThereAreSome) {
    Table table = small_table();
    table.text_name = "state";
    table.texts = {"brace", "full draw"};
    const std::vector<std::string> lines = lines_of(to_text(table));
    EXPECT_EQ(lines[6], "brace        0.0    -0.250");
    EXPECT_EQ(lines[7], "full draw  500.0         -");
}

TEST(Table, ZeroHasNoMinusSign) {
    Table table = small_table();
    table.rows = {{-0.04, -0.0}};
    EXPECT_NE(to_text(table).find(" 0.0     0.000\n"), std::string::npos) << to_text(table);
}

TEST(Table, ScientificColumnsShowAPowerOfTen) {
    const Table table{.title = "",
                      .columns = {{"residual", "", "", 1, true}},
                      .rows = {{3.14e-11}, {NAN}},
                      .text_name = "",
                      .texts = {}};
    EXPECT_EQ(to_text(table), "residual\n--------\n 3.1e-11\n       -\n");
}

TEST(Table, NeverPassesAHundredColumns) {
    for (const int columns : {1, 7, 8, 9, 10, 30})
        for (const std::string& line : lines_of(to_text(wide_table(columns))))
            EXPECT_LE(characters(line), 100) << line;
}

TEST(Table, FillsTheHundredColumnsBeforeItBreaks) {
    Table table = wide_table(9);
    for (std::vector<double>& row : table.rows)
        row.assign(9, 1234567.89);  // 10 characters: 9 columns, 8 gaps
    EXPECT_EQ(characters(lines_of(to_text(table))[3]), 9 * 10 + 8 * 2 - 12) << to_text(table);
    table.columns.pop_back();
    for (std::vector<double>& row : table.rows) row.pop_back();
    EXPECT_EQ(to_text(table).find("\n\n"), std::string::npos);
}

TEST(Table, RepeatsTheFirstColumnInEveryBlock) {
    Table table = wide_table(30);
    table.text_name = "state";
    table.texts = {"brace", "peak", "full"};
    const std::vector<std::string> lines = lines_of(to_text(table));
    const auto starts_with_peak = [](const std::string& line) { return line.starts_with("peak"); };
    const auto is_blank = [](const std::string& line) { return line.empty(); };
    EXPECT_GT(std::count_if(lines.begin(), lines.end(), is_blank), 2);
    EXPECT_EQ(std::count_if(lines.begin(), lines.end(), starts_with_peak),
              std::count_if(lines.begin(), lines.end(), is_blank) + 1);
}

TEST(Table, CutsLongLabelsInTheTerminalOnly) {
    Table table = small_table();
    const std::string label = "ö" + std::string(200, 'x');
    table.texts = {label, ""};
    EXPECT_NE(to_text(table).find("ö" + std::string(38, 'x') + "…  "), std::string::npos) << to_text(table);
    EXPECT_EQ(to_json(table)["rows"][0][0], label);
}

TEST(Table, JsonHoldsUnitsDefinitionsFullPrecisionAndNull) {
    Table table = small_table();
    table.rows[0][1] = 1.0 / 3.0;
    const nlohmann::json json = nlohmann::json::parse(to_json(table).dump());
    EXPECT_EQ(json["schema"], "limbwright table");
    EXPECT_EQ(json["schema_version"], 1);
    EXPECT_EQ(json["columns"][1]["unit"], "°");
    EXPECT_EQ(json["columns"][1]["definition"], "positive left");
    EXPECT_EQ(json["rows"][0][1].get<double>(), 1.0 / 3.0);
    EXPECT_TRUE(json["rows"][1][1].is_null());
}

TEST(Table, JsonNamesTheLabelColumnFirst) {
    Table table = small_table();
    table.text_name = "state";
    table.texts = {"brace", "full draw"};
    const nlohmann::ordered_json json = to_json(table);
    EXPECT_EQ(json["columns"][0]["name"], "state");
    EXPECT_EQ(json["columns"].size(), json["rows"][1].size());
    EXPECT_EQ(json["rows"][1][0], "full draw");
}

TEST(Table, RefusesARowOfTheWrongLength) {
    Table table = small_table();
    table.rows.push_back({1});
    EXPECT_THROW((void)to_text(table), std::invalid_argument);
    EXPECT_THROW((void)to_json(table), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::postproc::table_test
