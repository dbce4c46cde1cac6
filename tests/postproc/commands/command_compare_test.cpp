#include "postproc/commands/command_compare.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_compare_test {
namespace {

using nlohmann::json;
using tests::Bench;
using tests::called;
using tests::Called;
using tests::says;

/// The small bow in few elements and states.
std::string coarse(const Bench& bench) {
    models::Bow bow = testing::small_bow();
    bow.limb.shells = 8;
    bow.limb.shells_across = 4;
    bow.riser.shells = 12;
    bow.riser.shells_across = 2;
    bow.shooter.states = 5;
    return tests::written(bench.folder / "coarse.toml", models::bow_to_toml(bow)).string();
}

TEST(CommandCompare, PrintsMeasuresRatesCostsAndWhereTheModelsPart) {
    const Bench bench;
    const Called shown = called({"compare", coarse(bench)});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    for (const char* words :
         {"small bow\n", "\nMeasures\n", "peak weight [N]", "cam lean, top, at full draw [deg]",
          "\nOne limb and half of the riser alone, clamped\n", "limb, twist [N mm/deg]", "\nSize and time\n",
          "shell riser", "\nWhere they part\n", "One limb against twist"})
        EXPECT_TRUE(says(shown.output, words)) << words << shown.output;
    EXPECT_FALSE(says(shown.output, "bearing moment"));
    for (const std::string& line : tests::lines_of(shown.output)) {
        const auto characters =
            std::count_if(line.begin(), line.end(), [](char c) { return (c & '\xC0') != '\x80'; });
        EXPECT_LE(characters, 100) << line;
    }
}

TEST(CommandCompare, HasEveryRunAndMeasureInItsJson) {
    const Bench bench;
    const Called shown = called({"compare", coarse(bench), "--json"});
    ASSERT_EQ(shown.status, 0) << shown.errors;
    const json all = json::parse(shown.output);
    EXPECT_EQ(all.at("schema"), "limbwright compare");
    EXPECT_EQ(all.at("cost").at("rows").size(), 5u);
    EXPECT_GT(all.at("measures").at("rows").size(), 100u);
    EXPECT_GT(all.at("findings").size(), 3u);
}

TEST(CommandCompare, SaysWhichModelCouldNotBeStrung) {
    const Bench bench;
    models::Bow bow = testing::small_bow();
    bow.brace.axle_to_axle = 1100;  // farther apart than unloaded limbs hold the axles
    const Called shown =
        called({"compare", tests::written(bench.folder / "long.toml", models::bow_to_toml(bow)).string()});
    EXPECT_EQ(shown.status, 1);
    EXPECT_TRUE(says(shown.errors, "beams, ends free to warp could not be strung: ")) << shown.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_compare_test
