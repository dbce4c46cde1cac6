#include "postproc/commands/command_match.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_match_test {
namespace {

using nlohmann::json;
using tests::called;
using tests::Called;
using tests::says;

const std::string examples = std::string(SOURCE_DIR) + "/examples/";

/// The small bow and a sheet of its own weights.
struct Sheet : tests::Bench {
    std::string sheet = tests::written(folder / "bench.toml",
                                       "axle_to_axle = \"840 mm\"\nbrace_height = \"172 mm\"\n"
                                       "peak_weight = \"290 N\"\n"
                                       "draw_weight = [ { at = \"400 mm\", force = \"240 N\" } ]\n")
                            .string();
};

int characters(const std::string& text) {
    return static_cast<int>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & '\xC0') != '\x80'; }));
}

TEST(CommandMatch, EightNumbersOfTheDemoBowFitAHundredColumns) {
    const Called shown = called({"match", examples + "crossed.toml", examples + "bench_eight.toml"});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    for (const char* words : {"\nThe bow's numbers\n", "\nlimb stiffness ", "\nThe measurements\n",
                              "\ndraw weight at 24 in ", "\nNo measurement contradicts the others.\n",
                              "\nWhat to measure next, best first\n", "\ntiming, turns, at full draw "})
        EXPECT_TRUE(says(shown.output, words)) << words << shown.output;
    for (const std::string& line : tests::lines_of(shown.output)) EXPECT_LE(characters(line), 100) << line;
    EXPECT_TRUE(says(shown.errors, "qualified technician"));
}

TEST(CommandMatch, JsonHoldsEveryNumberOnce) {
    const Sheet bench;
    const json match = json::parse(called({"match", bench.bow, bench.sheet, "--json"}).output);
    EXPECT_EQ(match["schema"], "limbwright match");
    EXPECT_EQ(match["measurements"].size(), 4);
    EXPECT_EQ(match["measurements"][3]["at_mm"], 400);
    EXPECT_EQ(match["measurements"][3]["measured"], 240);
    EXPECT_EQ(match["parameters"][0]["key"], "limb_stiffness");
    for (const json& p : match["parameters"])
        EXPECT_TRUE(p["verdict"] != "not seen" || p["value"] == p["prior"]) << p;
    EXPECT_FALSE(match["next"].empty());
}

TEST(CommandMatch, WritesABowThatNeedsNoFurtherMatching) {
    const Sheet bench;
    const std::string file = (bench.folder / "matched.toml").string();
    const Called first = called({"match", bench.bow, bench.sheet, "--json", "--write", file});
    EXPECT_EQ(first.status, 0) << first.errors;
    EXPECT_TRUE(says(first.errors, file + " is written.\n"));
    const json match = json::parse(first.output);
    const json again = json::parse(called({"match", file, bench.sheet, "--json"}).output);
    for (std::size_t k = 0; k < 4; ++k)
        EXPECT_NEAR(again["measurements"][k]["before"].get<double>(),
                    match["measurements"][k]["after"].get<double>(),
                    0.02);  // the peak's parabola starts elsewhere
}

TEST(CommandMatch, WritesTheGroovesBesideABowInAnotherFolder) {
    const tests::TemporaryFolder folder;
    const std::string file = (folder / "matched.toml").string();
    const Called first =
        called({"match", examples + "crossed.toml", examples + "bench_eight.toml", "--write", file});
    EXPECT_EQ(first.status, 0) << first.errors;
    EXPECT_EQ(called({"check", file}).status, 0);
    EXPECT_TRUE(std::filesystem::exists(folder / "crossed_string.csv"));
}

TEST(CommandMatch, WritesOverNothingUnlessForced) {
    const Sheet bench;
    const std::string before = tests::content(bench.bow);
    const Called refused = called({"match", bench.bow, bench.sheet, "--write", bench.bow});
    EXPECT_EQ(refused.status, 2);
    EXPECT_TRUE(says(refused.errors, "is there already; add --force")) << refused.errors;
    EXPECT_EQ(tests::content(bench.bow), before);
    EXPECT_EQ(called({"match", bench.bow, bench.sheet, "--write", bench.bow, "--force"}).status, 0);
    EXPECT_NE(tests::content(bench.bow), before);
}

TEST(CommandMatch, RefusesToReplaceAnotherBowsGroove) {
    const tests::TemporaryFolder folder;
    tests::written(folder / "crossed_string.csv", "another groove\n");
    const Called refused = called({"match", examples + "crossed.toml", examples + "bench_eight.toml",
                                   "--write", (folder / "matched.toml").string()});
    EXPECT_EQ(refused.status, 2);
    EXPECT_TRUE(says(refused.errors, "another file is there already")) << refused.errors;
    EXPECT_FALSE(std::filesystem::exists(folder / "matched.toml"));
}

TEST(CommandMatch, TellsAContradictionWithItsLine) {
    const Sheet bench;
    const std::string sheet =
        tests::written(bench.folder / "wrong.toml", tests::content(bench.sheet) + "let_off = \"40 %\"\n")
            .string();
    const Called shown = called({"match", bench.bow, sheet});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    EXPECT_TRUE(says(shown.output, "Contradiction: let-off (")) << shown.output;
    EXPECT_TRUE(says(shown.output, "wrong.toml:5")) << shown.output;
}

TEST(CommandMatch, MistakesInTheBenchFileAreWrongInput) {
    const Sheet bench;
    const std::string sheet =
        tests::written(bench.folder / "wrong.toml", "axle_to_axle = 838\nbrace_hight = \"7 in\"\n").string();
    const Called refused = called({"match", bench.bow, sheet});
    EXPECT_EQ(refused.status, 2);
    EXPECT_EQ(refused.output, "");
    EXPECT_TRUE(says(refused.errors, "wrong.toml:1:16: axle_to_axle needs a unit")) << refused.errors;
    EXPECT_TRUE(says(refused.errors, "wrong.toml:2:1: brace_hight is not a known key")) << refused.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_match_test
