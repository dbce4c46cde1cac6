#include "postproc/results/ranking_record.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "tests/postproc/results/made_up_ranking.hpp"

namespace limbwright::postproc::ranking_record_test {
namespace {

using testing::made_up_ranking;

const Group& group(const Group& root, const std::string& name) {
    for (const Group& child : root.groups)
        if (child.name == name) return child;
    throw std::out_of_range(name);
}

template <class Data>
const Data& named(const std::vector<Data>& all, const std::string& name) {
    for (const Data& data : all)
        if (data.name == name) return data;
    throw std::out_of_range(name);
}

TEST(RankingRecord, EveryLayoutIsOneRowOfEachMatrix) {
    const Group tree = to_tree(made_up_ranking());
    const Group& layouts = group(tree, "layouts");
    const Numbers& values = named(layouts.numbers, "values");
    EXPECT_EQ(values.extents, (std::vector<std::size_t>{50, 3}));
    EXPECT_EQ(values.values[3 * 49 + 2], 300);
    EXPECT_EQ(named(layouts.numbers, "number").values[49], 49);
    EXPECT_EQ(named(layouts.numbers, "rework_kind").values[0], 0);
    EXPECT_EQ(named(layouts.numbers, "rework_kind").values[1], 3);
    EXPECT_EQ(named(layouts.numbers, "rework_parts").values[1], 4);
}

TEST(RankingRecord, SettingsAreInTheUnitsThatStandBesideThem) {
    const Group tree = to_tree(made_up_ranking());
    const std::vector<std::string> units{"mm", "mm", "mm", "deg"};
    EXPECT_EQ(named(group(tree, "settings").texts, "units").values, units);
    const Numbers& settings = named(group(tree, "layouts").numbers, "settings");
    EXPECT_EQ(settings.extents, (std::vector<std::size_t>{50, 4}));
    EXPECT_EQ((std::vector<double>(settings.values.begin(), settings.values.begin() + 4)),
              (std::vector<double>{-0.5, -0.5, 0, 1}));
}

TEST(RankingRecord, ColumnsKeepUnitPlaceAndDefinition) {
    const Group tree = to_tree(made_up_ranking());
    const Group& columns = group(tree, "columns");
    EXPECT_EQ(named(columns.texts, "measures").values[1], "cam lean, bottom");
    EXPECT_EQ(named(columns.texts, "places").values[1], "full draw");
    EXPECT_EQ(named(columns.texts, "units").values[1], "deg");
    EXPECT_EQ(named(columns.texts, "definitions").values[1], "positive left");
}

TEST(RankingRecord, TheBestAreFiledBestFirstWithWhatToBuild) {
    const RankingResults results = made_up_ranking();
    const Group tree = to_tree(results);
    const Group& best = group(tree, "best");
    EXPECT_EQ(named(best.numbers, "number").values[0], results.best[0].number);
    const Numbers& pairing = named(best.numbers, "pairing");
    EXPECT_EQ(pairing.extents, (std::vector<std::size_t>{8, 4}));
    EXPECT_EQ(pairing.values[2], 50.5);
    EXPECT_EQ(named(best.numbers, "cam_offsets").values[0], -0.5);
    EXPECT_EQ(named(best.texts, "spacers_top").values[0], "left [0.5 1.5] right [0.5 0.5]");
    EXPECT_EQ(named(best.texts, "broken_limits_in_words").values[1], "peak weight 312.4 N, at most 300 N");
    EXPECT_EQ(named(group(tree, "today").numbers, "number").values, std::vector<double>{0});
}

TEST(RankingRecord, WhatWentInAndWhatFailedIsKept) {
    const Group tree = to_tree(made_up_ranking());
    EXPECT_EQ(named(group(tree, "input").texts, "bow_file").values[0], "name = \"small bow\"\n");
    EXPECT_EQ(named(group(tree, "failures").numbers, "number").values[0], 1000);
    EXPECT_EQ(named(group(tree, "failures").texts, "cause").values[0],
              "the string ran off its groove at 612 mm");
    EXPECT_EQ(named(tree.texts, "notes").values.size(), 2U);
}

TEST(RankingRecord, RefusesARowOfAnotherLength) {
    RankingResults results = made_up_ranking();
    results.rows[7].values.pop_back();
    EXPECT_THROW((void)to_tree(results), std::invalid_argument);
}

TEST(RankingJson, TellsTheBestLayoutAtFullPrecision) {
    const RankingResults results = made_up_ranking();
    const nlohmann::json json = to_json(results);
    const auto& best = json["best"][0];
    EXPECT_EQ(best["limbs"]["bottom_left"], 50.5);
    EXPECT_EQ(best["spacers_bottom"]["right"], (std::vector<double>{0.5, 1.25}));
    EXPECT_EQ(best["spacers_bottom"]["cam_offset"], 0.25);
    EXPECT_EQ(best["settings"]["guide, lateral"], 2);
    EXPECT_EQ(best["aims"][1].get<double>(), results.best[0].values[1]);
    EXPECT_EQ(best["rework"]["kind"], "spacers");
    EXPECT_EQ(json["best"][1]["broken_limits"][0], "peak weight 312.4 N, at most 300 N");
    EXPECT_EQ(json["solved"], 50);
}

TEST(RankingJson, AnOpenLimitAndAnUndefinedValueAreNull) {
    RankingResults results = made_up_ranking();
    results.study.limits = {{{"peak_weight", "", models::DrawPlace::whole}, -INFINITY, 300}};
    results.best[0].values[2] = NAN;
    const nlohmann::json json = to_json(results);
    EXPECT_TRUE(json["limits"][0]["at_least"].is_null());
    EXPECT_EQ(json["limits"][0]["at_most"], 300);
    EXPECT_TRUE(json["best"][0]["values"][2].is_null());
}

}  // namespace
}  // namespace limbwright::postproc::ranking_record_test
