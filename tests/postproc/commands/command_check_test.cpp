#include "postproc/commands/command_check.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>

#include "models/bow/bow_file.hpp"
#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_check_test {
namespace {

using tests::Bench;
using tests::called;
using tests::Called;
using tests::says;

TEST(CommandCheck, ShowsLimbsSpacersAndLeverArms) {
    const Bench bench;
    const Called check = called({"check", bench.bow});
    EXPECT_EQ(check.status, 0);
    EXPECT_EQ(check.errors, "");
    for (const char* words : {"small bow\n", "\nLimbs\n", "\nSpacers\n", "\nLever arms of the top cam",
                              "\nLever arms of the bottom cam"})
        EXPECT_TRUE(says(check.output, words)) << words << check.output;
}

TEST(CommandCheck, EndsWithAWholeBowFile) {
    const Bench bench;
    const std::string output = called({"check", bench.bow}).output;
    const std::string before = "All values as the program understands them:\n\n";
    ASSERT_TRUE(says(output, before));
    EXPECT_EQ(output.substr(output.find(before) + before.size()), models::bow_to_toml(testing::small_bow()));
}

TEST(CommandCheck, TablesFitAHundredColumns) {
    const Bench bench;
    const std::string output = called({"check", bench.bow}).output;
    for (const std::string& line : tests::lines_of(output.substr(0, output.find("All values"))))
        EXPECT_LE(line.size(), 100u) << line;
}

TEST(CommandCheck, JsonHoldsTheSameTables) {
    const Bench bench;
    const Called check = called({"check", bench.bow, "--json"});
    EXPECT_EQ(check.status, 0);
    const nlohmann::json tables = nlohmann::json::parse(check.output);
    ASSERT_EQ(tables.size(), 4u);
    EXPECT_EQ(tables[0]["title"], "Limbs");
    EXPECT_EQ(tables[1]["title"], "Spacers");
    for (const auto& table : tables) EXPECT_EQ(table["schema"], "limbwright table");
}

TEST(CommandCheck, LeverArmsOfRoundTracksFollowFromTheirCircles) {
    const Bench bench;
    const nlohmann::json arms = nlohmann::json::parse(called({"check", bench.bow, "--json"}).output)[2];
    // At turn zero the string leaves at the normal −U, the take-up at +U: radius less and plus the centre's
    // U.
    EXPECT_EQ(arms["columns"][1]["name"], "string arm");
    EXPECT_EQ(arms["columns"][3]["name"], "take-up arm");
    EXPECT_NEAR(arms["rows"][0][1].get<double>(), 50 - 11, 1e-9);  // rounding
    EXPECT_NEAR(arms["rows"][0][3].get<double>(), 45 + 20, 1e-9);
}

TEST(CommandCheck, ShowsTheStopsTurnLast) {
    const Bench bench;
    const std::string bow = bench.bow_with("[cam.top]\n", "[cam.top]\nstop = \"150 deg\"\n");
    const nlohmann::json arms = nlohmann::json::parse(called({"check", bow, "--json"}).output)[2];
    EXPECT_NEAR(arms["rows"].back()[0].get<double>(), 150, 1e-9);  // rounding of degrees
}

TEST(CommandCheck, TellsEveryMistakeAtOnceWithItsPlace) {
    const Bench bench;
    std::string text = tests::content(bench.bow);
    text = tests::replaced(text, "fill = 0.6", "fill = 6");
    text = tests::replaced(text, "kind = \"split\"", "kind = \"whole\"");
    text = tests::replaced(text, "length = \"320 mm\"", "lenght = \"320 mm\"");
    text = tests::replaced(text, "strain_allowable", "# strain_allowable");
    const std::string bow = tests::written(bench.folder / "bad.toml", text).string();
    for (const char* command : {"check", "draw"}) {
        const Called refused = called({command, bow});
        EXPECT_EQ(refused.status, 2);
        EXPECT_EQ(refused.output, "");
        for (const std::string& line : tests::lines_of(refused.errors))
            EXPECT_TRUE(std::regex_match(line, std::regex(R"(.*bad\.toml:\d+:\d+: \S+ .*)"))) << line;
        for (const char* key : {": riser.fill ", ": limb.kind ", ": limb.lenght ", ": limb.length ",
                                ": limb.strain_allowable "})
            EXPECT_TRUE(says(refused.errors, key)) << key << "\n" << refused.errors;
    }
    EXPECT_EQ(bench.folder.entries(), 2);
}

}  // namespace
}  // namespace limbwright::postproc::command_check_test
