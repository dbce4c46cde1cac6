#include "postproc/commands/command_modes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_modes_test {
namespace {

using nlohmann::json;
using tests::Bench;
using tests::called;
using tests::Called;
using tests::says;

TEST(CommandModes, PrintsFrequenciesStabilityAndMassesAtBraceAndAtFullDraw) {
    const Bench bench;
    const Called shown = called({"modes", bench.bow, "--no-files"});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    for (const char* words : {"small bow\n", "\nFree motions at brace\n", "\nFree motions at full draw\n",
                              "\nStable at brace: ", "\nStable at full draw: ", "\nMasses\n", "\n10 "})
        EXPECT_TRUE(says(shown.output, words)) << words << shown.output;
    EXPECT_FALSE(says(shown.output, "Files:"));
}

TEST(CommandModes, SaysWhatIsAssumed) {
    const Bench bench;
    const std::string limbs = "shear_modulus = \"4200 MPa\"";
    EXPECT_TRUE(says(called({"modes", bench.bow, "--no-files"}).output, "limbs: 1900 kg/m3"));
    const std::string given = bench.bow_with(limbs, limbs + ", density = \"1850 kg/m3\"");
    EXPECT_FALSE(says(called({"modes", given, "--no-files"}).output, "limbs: "));
}

TEST(CommandModes, ShowsOneStateAndAsManyModesAsAsked) {
    const Bench bench;
    const Called shown = called({"modes", bench.bow, "--no-files", "--at", "full", "--count", "3"});
    EXPECT_FALSE(says(shown.output, "at brace"));
    EXPECT_TRUE(says(shown.output, "\n3 "));
    EXPECT_FALSE(says(shown.output, "\n4 "));
}

TEST(CommandModes, LinesFitAHundredColumns) {
    const Called shown =
        called({"modes", std::string(SOURCE_DIR) + "/examples/yoked.toml", "--no-files", "--at", "brace"});
    for (const std::string& line : tests::lines_of(shown.output)) {
        const auto characters =
            std::count_if(line.begin(), line.end(), [](char c) { return (c & '\xC0') != '\x80'; });
        EXPECT_LE(characters, 100) << line;
    }
}

TEST(CommandModes, JsonIsAllThatStandsOnStandardOutput) {
    const Bench bench;
    const Called shown = called({"modes", bench.bow, "--no-files", "--json", "--count", "4"});
    ASSERT_TRUE(json::accept(shown.output)) << shown.output;
    const json result = json::parse(shown.output);
    EXPECT_EQ(result["schema"], "limbwright modes");
    ASSERT_EQ(result["states"].size(), 2u);
    for (const json& state : result["states"]) {
        EXPECT_EQ(state["unstable_directions"], 0);
        ASSERT_EQ(state["modes"].size(), 4u);
        EXPECT_EQ(state["modes"][0]["shares"].size(), state["parts"].size());
        EXPECT_LT(state["modes"][0]["frequency_hz"], state["modes"][1]["frequency_hz"]);
    }
}

TEST(CommandModes, WritesAFilmOfEveryMode) {
    const Bench bench;
    const std::filesystem::path folder = bench.folder / "films";
    const Called shown = called({"modes", bench.bow, "--at", "brace", "--count", "2", "-o", folder.string()});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    for (const char* name : {"brace_mode_01.pvd", "brace_mode_02.pvd"}) {
        EXPECT_TRUE(says(shown.output, (folder / name).string())) << shown.output;
        const std::string collection = tests::content(folder / name);
        EXPECT_TRUE(says(collection, "state_0023.vtm"));
        EXPECT_FALSE(says(collection, "state_0024.vtm"));
    }
    EXPECT_TRUE(std::filesystem::exists(folder / "brace_mode_01_states" / "state_0023.vtm"));
}

TEST(CommandModes, ACountOrAPlaceThatCannotBeIsAMistake) {
    const Bench bench;
    EXPECT_EQ(called({"modes", bench.bow, "--count", "0"}).status, 2);
    EXPECT_EQ(called({"modes", bench.bow, "--at", "peak"}).status, 2);
}

}  // namespace
}  // namespace limbwright::postproc::command_modes_test
