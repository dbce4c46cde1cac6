#include "postproc/commands/command_draw.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_draw_test {
namespace {

using nlohmann::json;
using tests::Bench;
using tests::called;
using tests::Called;
using tests::says;

/// Result of `draw --no-files --json` with more words.
json drawn(const std::string& bow, const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{"draw", bow, "--no-files", "--json"};
    words.insert(words.end(), more.begin(), more.end());
    return json::parse(called(words).output);
}

double draw_in(const json& result, std::size_t state) {
    const json& columns = result["states"]["columns"];
    for (std::size_t c = 0; c < columns.size(); ++c)
        if (columns[c]["name"] == "draw") return result["states"]["rows"][state][c].get<double>();
    throw std::runtime_error("no column is called draw");
}

TEST(CommandDraw, PrintsTheCourseTheDrawAndTheStates) {
    const Bench bench;
    const Called draw = called({"draw", bench.bow, "--no-files"});
    EXPECT_EQ(draw.status, 0);
    for (const char* words : {"small bow\n", "\nOver the draw\n", "\nThe draw as a whole\n",
                              "\nAt brace, at peak weight, in the last state\n"})
        EXPECT_TRUE(says(draw.output, words)) << words << draw.output;
}

TEST(CommandDraw, TheWarningOfDangerIsNotPartOfTheResults) {
    const Bench bench;
    const Called draw = called({"draw", bench.bow, "--no-files"});
    EXPECT_TRUE(says(draw.errors, "qualified technician"));
    EXPECT_FALSE(says(draw.output, "technician"));
}

TEST(CommandDraw, JsonIsAllThatStandsOnStandardOutput) {
    const Bench bench;
    const Called draw = called({"draw", bench.bow, "--no-files", "--json"});
    EXPECT_EQ(draw.status, 0);
    ASSERT_TRUE(json::accept(draw.output)) << draw.output;
    EXPECT_EQ(json::parse(draw.output)["schema"], "limbwright draw");
    EXPECT_EQ(bench.folder.entries(), 1);
}

TEST(CommandDraw, JsonIsAllThatStandsOnStandardOutputWithFilesToo) {
    const Bench bench;
    const Called draw = called({"draw", bench.bow, "-o", (bench.folder / "out").string(), "--json"});
    EXPECT_EQ(draw.status, 0);
    EXPECT_TRUE(json::accept(draw.output)) << draw.output;
    EXPECT_TRUE(says(draw.errors, "small.h5")) << draw.errors;
}

TEST(CommandDraw, LeavesEveryFileInTheFolder) {
    const Bench bench;
    const std::filesystem::path out = bench.folder / "deep/out";
    const Called draw = called({"draw", bench.bow, "-o", out.string()});
    EXPECT_EQ(draw.status, 0) << draw.errors;
    for (const char* name : {"side.svg", "behind.svg", "force.svg", "lean.svg", "nock_travel.svg",
                             "small.json", "small.h5", "small.pvd"}) {
        EXPECT_TRUE(std::filesystem::exists(out / name)) << name;
        EXPECT_TRUE(says(draw.output, (out / name).string())) << name;
    }
    EXPECT_EQ(json::parse(tests::content(out / "small.json")), drawn(bench.bow));
    for (const char* name : {"side.svg", "behind.svg", "force.svg", "lean.svg", "nock_travel.svg"})
        EXPECT_TRUE(tests::parsed_as_xml(tests::content(out / name)).succeeded) << name;
}

TEST(CommandDraw, AFolderThatCannotBeMadeIsToldInASentence) {
    const Bench bench;
    const std::filesystem::path file = tests::written(bench.folder / "file", "no folder");
    const Called failed = called({"draw", bench.bow, "-o", (file / "out").string()});
    EXPECT_EQ(failed.status, 1);
    EXPECT_TRUE(says(failed.errors, (file / "out").string())) << failed.errors;
    EXPECT_EQ(tests::content(file), "no folder");
}

TEST(CommandDraw, TakesAnotherNumberOfStates) {
    const Bench bench;
    EXPECT_EQ(drawn(bench.bow)["states"]["rows"].size(), 9u);
    EXPECT_EQ(drawn(bench.bow, {"--states", "5"})["states"]["rows"].size(), 5u);
    EXPECT_EQ(called({"draw", bench.bow, "--no-files", "--states", "1"}).status, 2);
}

TEST(CommandDraw, TakesAnotherDrawLength) {
    const Bench bench;
    const json shorter = drawn(bench.bow, {"--draw-length", "22 in"});
    EXPECT_NEAR(draw_in(shorter, 8), (22 - 1.75) * 25.4, 1e-6);  // the step's own rounding
    EXPECT_NEAR(draw_in(shorter, 0), draw_in(drawn(bench.bow), 0), 1e-9);
}

TEST(CommandDraw, LetDownEndsWhereTheDrawBegan) {
    const Bench bench;
    const Called draw = called({"draw", bench.bow, "--no-files", "--let-down"});
    const std::string before = "the farthest section is ";
    ASSERT_TRUE(says(draw.output, before)) << draw.output;
    const double farthest = std::atof(draw.output.c_str() + draw.output.find(before) + before.size());
    EXPECT_LT(farthest, 1e-6);  // mm; both ends are solved to 1e-9 of the forces
    EXPECT_FALSE(says(called({"draw", bench.bow, "--no-files"}).output, before));
}

TEST(CommandDraw, ABowThatCannotBeStrungIsToldInASentence) {
    const Bench bench;
    const std::string bow = bench.bow_with("axle_to_axle = \"838 mm\"", "axle_to_axle = \"1200 mm\"");
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"draw", bow}, std::vector<std::string>{"draw", bow, "--json"}}) {
        const Called failed = called(words);
        EXPECT_EQ(failed.status, 1);
        EXPECT_EQ(failed.output, "");
        EXPECT_TRUE(failed.errors.starts_with("small bow could not be strung: ")) << failed.errors;
    }
    EXPECT_EQ(bench.folder.entries(), 2);
}

TEST(CommandDraw, ADrawThatEndsEarlyShowsWhatWasReached) {
    const Bench bench;
    std::string text = tests::content(bench.bow);
    text = tests::replaced(text, "[cam.top]\n", "[cam.top]\nstop = \"100 deg\"\n");
    // half a metre beyond the stops, where the limbs give way
    text = tests::replaced(text, "draw_length = \"644.45 mm\"", "draw_length = \"1000 mm\"");
    const std::string bow = tests::written(bench.folder / "stopped.toml", text).string();
    const Called draw = called({"draw", bow, "--no-files", "--json"});
    EXPECT_EQ(draw.status, 1);
    const json result = json::parse(draw.output);
    ASSERT_TRUE(result["failure"].is_string());
    EXPECT_TRUE(says(draw.errors, result["failure"].get<std::string>())) << draw.errors;
    EXPECT_GT(result["states"]["rows"].size(), 1u);
}

}  // namespace
}  // namespace limbwright::postproc::command_draw_test
