#include "postproc/commands/command_start.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_start_test {
namespace {

using tests::called;
using tests::Called;
using tests::says;
using Words = std::vector<std::string>;

/// The call of README.md.
Words start(const std::filesystem::path& file) {
    return {"start",
            file.string(),
            "--axle-to-axle",
            "33 in",
            "--brace-height",
            "7 in",
            "--draw-length",
            "29 in",
            "--peak-weight",
            "60 lbf",
            "--limb-length",
            "320 mm",
            "--limb-width-root",
            "24 mm",
            "--limb-width-tip",
            "24 mm",
            "--limb-thickness-root",
            "9 mm",
            "--limb-thickness-tip",
            "5.4 mm"};
}

Words with(Words words, const std::string& option, const std::string& value) {
    *(std::find(words.begin(), words.end(), option) + 1) = value;
    return words;
}

TEST(CommandStart, WritesAFileThatCheckAccepts) {
    const tests::TemporaryFolder folder;
    const Called started = called(start(folder / "my_bow.toml"));
    EXPECT_EQ(started.status, 0);
    EXPECT_EQ(started.errors, "");
    EXPECT_TRUE(says(started.output, "limbwright check " + (folder / "my_bow.toml").string()));
    const Called check = called({"check", (folder / "my_bow.toml").string()});
    EXPECT_EQ(check.status, 0) << check.errors;
}

TEST(CommandStart, WritesABenchFileBesideItThatTheBowMatches) {
    const tests::TemporaryFolder folder;
    ASSERT_EQ(called(start(folder / "my_bow.toml")).status, 0);
    const Called match =
        called({"match", (folder / "my_bow.toml").string(), (folder / "my_bow_bench.toml").string()});
    EXPECT_EQ(match.status, 0) << match.errors;
    EXPECT_TRUE(says(match.output, "No measurement contradicts the others.")) << match.output;
}

TEST(CommandStart, WritesABowThatDrawsToItsDrawLength) {
    const tests::TemporaryFolder folder;
    for (const bool left_handed : {false, true}) {
        const std::filesystem::path file = folder / (left_handed ? "left.toml" : "right.toml");
        Words words = start(file);
        if (left_handed) words.push_back("--left-handed");
        ASSERT_EQ(called(words).status, 0);
        const Called draw = called({"draw", file.string(), "--no-files", "--json"});
        ASSERT_EQ(draw.status, 0) << draw.errors;
        const nlohmann::json json = nlohmann::json::parse(draw.output);
        for (const auto& measure : json["draw"])
            if (measure["name"] == "draw length" && measure["unit"] == "in") {
                EXPECT_NEAR(measure["value"].get<double>(), 29, 1e-9);  // rounding
            }
        EXPECT_TRUE(json["failure"].is_null());
    }
}

TEST(CommandStart, DoesNotWriteOverAFileUnlessForced) {
    const tests::TemporaryFolder folder;
    const std::filesystem::path file = tests::written(folder / "mine.toml", "days of work");
    Words words = start(file);
    const Called refused = called(words);
    EXPECT_EQ(refused.status, 2);
    EXPECT_EQ(refused.output, "");
    EXPECT_TRUE(says(refused.errors, "--force")) << refused.errors;
    EXPECT_EQ(tests::content(file), "days of work");
    words.push_back("--force");
    EXPECT_EQ(called(words).status, 0);
    EXPECT_TRUE(says(tests::content(file), "[layout.pairing]"));
}

TEST(CommandStart, TellsEveryImpossibleNumberAtOnce) {
    const tests::TemporaryFolder folder;
    Words words = start(folder / "my_bow.toml");
    words = with(words, "--axle-to-axle", "33 m");
    words = with(words, "--peak-weight", "6000 lbf");
    words = with(words, "--limb-thickness-tip", "54 mm");
    const Called refused = called(words);
    EXPECT_EQ(refused.status, 2);
    EXPECT_EQ(refused.output, "");
    EXPECT_EQ(tests::lines_of(refused.errors).size(), 3u) << refused.errors;
    for (const char* word : {"axle", "weight", "thickness"})
        EXPECT_TRUE(says(refused.errors, word)) << refused.errors;
    EXPECT_EQ(folder.entries(), 0);
}

TEST(CommandStart, ANumberWithoutItsUnitIsRefused) {
    const tests::TemporaryFolder folder;
    const Called refused = called(with(start(folder / "my_bow.toml"), "--brace-height", "7"));
    EXPECT_EQ(refused.status, 2);
    EXPECT_TRUE(says(refused.errors, "--brace-height: must be a length")) << refused.errors;
    EXPECT_EQ(folder.entries(), 0);
}

TEST(CommandStart, AFolderThatIsNotThereIsAFailureToWrite) {
    const tests::TemporaryFolder folder;
    const Called failed = called(start(folder / "missing/my_bow.toml"));
    EXPECT_EQ(failed.status, 1);
    EXPECT_EQ(failed.output, "");
    EXPECT_TRUE(says(failed.errors, "my_bow.toml")) << failed.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_start_test
