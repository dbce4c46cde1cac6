#include "postproc/report/report_data.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/support/strung.hpp"

namespace limbwright::postproc::report_data_test {
namespace {

using Json = nlohmann::ordered_json;

const ReportData& small() {
    static const ReportData data = [] {
        models::Bow bow = testing::small_uneven_bow();
        bow.shooter.states = 5;
        const models::Tear tear = *models::tear_of("left", 22);
        return report_data(bow, {.tear = &tear, .threads = 2});
    }();
    return data;
}

TEST(ReportData, ShowsBraceAndFullDrawInThreeDimensionsAndAsPictures) {
    ASSERT_EQ(small().states.size(), 2U);
    EXPECT_EQ(small().states[0].name, "brace");
    EXPECT_NEAR(small().states[0].force, 0, 1e-6);  // nothing pulls at brace
    EXPECT_EQ(small().states[1].name, "full draw");
    EXPECT_GT(small().states[1].force, 1);
    for (const std::string& picture :
         {small().side, small().behind, small().plots.at(0), small().plots.at(2)})
        EXPECT_TRUE(picture.starts_with("<svg"));
}

TEST(ReportData, TheEffectsTablesBeginWithTodaysValues) {
    ASSERT_EQ(small().effects.size(), 2U);
    for (const Table& table : small().effects) {
        EXPECT_EQ(table.texts[0], "(today's value)");
        const auto column = std::ranges::find(table.columns, "lean top, full draw", &Column::name);
        ASSERT_NE(column, table.columns.end());
        EXPECT_NEAR(table.rows[0][static_cast<std::size_t>(column - table.columns.begin())],
                    small().layouts[0].curves[1].back(), 1e-9);  // the same state
    }
}

TEST(ReportData, SettingsThatChangeNothingAreLeftOut) {
    const auto twists = [](const Table& table) {
        return std::ranges::count_if(table.texts,
                                     [](const std::string& t) { return t.starts_with("twist"); });
    };
    EXPECT_GT(twists(small().effects[0]), 0);
    EXPECT_EQ(twists(small().effects[1]), 0);
}

TEST(ReportData, ATearBringsItsReadingAndTheSheetOfTheFirstCure) {
    ASSERT_TRUE(small().tear);
    EXPECT_NE(small().tear->text.find("Paper tear: tail left, 22 mm"), std::string::npos);
    EXPECT_TRUE(small().tear->sheet.starts_with("<svg"));
    EXPECT_NE(small().tear->sheet.find("Bench sheet"), std::string::npos);
}

TEST(ReportData, TheJsonTellsItsSchemaAndUnits) {
    const Json json = to_json(small());
    EXPECT_EQ(json["schema"], "limbwright report");
    EXPECT_EQ(json["units"]["points"], "mm");
    EXPECT_EQ(json["curves"][0]["unit"], "N");
}

TEST(ReportData, TheJsonHoldsTheCurvesOfEveryLayout) {
    const Json json = to_json(small());
    ASSERT_EQ(json["layouts"].size(), small().layouts.size());
    for (std::size_t i = 0; i < small().layouts.size(); ++i) {
        const Json& layout = json["layouts"][i];
        ASSERT_EQ(layout["curves"].size(), json["curves"].size());
        for (std::size_t c = 0; c < layout["curves"].size(); ++c) {
            ASSERT_EQ(layout["curves"][c].size(), layout["draw"].size());
            EXPECT_NEAR(layout["curves"][c].back().get<double>(), small().layouts[i].curves[c].back(),
                        0.51e-4);  // as it is rounded
        }
    }
}

TEST(ReportData, TheJsonsTrianglesIndexItsPoints) {
    const Json json = to_json(small());
    for (const Json& state : json["states"])
        for (const Json& piece : state["pieces"]) {
            EXPECT_EQ(piece["triangles"].size() % 3, 0U);
            EXPECT_TRUE(piece["lean"].empty() || piece["lean"].size() == piece["points"].size());
            for (const Json& corner : piece["triangles"])
                EXPECT_LT(3 * corner.get<std::size_t>(), piece["points"].size());
        }
}

TEST(ReportData, WhatIsNoNumberIsNull) {
    ReportData data;
    data.layouts = {{.name = "today",
                     .change = "",
                     .rework = "",
                     .score = NAN,
                     .broken = {},
                     .draw = {1},
                     .curves = {{NAN}},
                     .failure = ""}};
    const Json json = to_json(data);
    EXPECT_TRUE(json["layouts"][0]["score"].is_null());
    EXPECT_TRUE(json["layouts"][0]["curves"][0][0].is_null());
}

TEST(ReportData, ABowThatCannotBeStrungIsAnError) {
    models::Bow bow = testing::small_bow();
    bow.brace.axle_to_axle = 1200;
    EXPECT_THROW((void)report_data(bow, {}), std::runtime_error);
}

}  // namespace
}  // namespace limbwright::postproc::report_data_test
