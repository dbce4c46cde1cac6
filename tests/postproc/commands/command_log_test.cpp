#include "postproc/commands/command_log.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_log_test {
namespace {

using tests::called;
using tests::Called;
using tests::says;

struct Logged : tests::Bench {
    std::string log = (folder / "log.toml").string();
    std::string bench = tests::written(folder / "bench.toml",
                                       "axle_to_axle = \"840 mm\"\nbrace_height = \"172 mm\"\n"
                                       "peak_weight = \"300 N\"\n")
                            .string();
};

TEST(CommandLog, EntersWhatIsBroughtAndSaysWhatToDoNext) {
    const Logged b;
    const Called first =
        called({"log", b.bow, b.log, "--bench", b.bench, "--date", "2026-11-25", "--remark", "new"});
    EXPECT_EQ(first.status, 0) << first.errors;
    EXPECT_TRUE(says(first.errors, "1 entry is entered in ")) << first.errors;
    EXPECT_TRUE(says(first.output, "2026-11-25: 3 measurements; new")) << first.output;
    EXPECT_TRUE(says(first.output, "shoot through paper")) << first.output;
    const std::string before = tests::content(b.log);
    EXPECT_EQ(called({"log", b.bow, b.log, "--bench", b.bench}).status, 0);
    EXPECT_EQ(tests::content(b.log), before);
}

TEST(CommandLog, JsonIsAllThatStandsOnStandardOutput) {
    const Logged b;
    const auto json = nlohmann::json::parse(
        called({"log", b.bow, b.log, "--bench", b.bench, "--tail", "none", "--json"}).output);
    EXPECT_EQ(json["next"], "stop");
}

TEST(CommandLog, KeepsATearThatComesWithoutMeasurements) {
    const Logged b;
    const Called shown = called({"log", b.bow, b.log, "--tail", "left", "--size", "9 mm"});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    EXPECT_TRUE(says(shown.output, "Nothing was measured yet")) << shown.output;
    EXPECT_TRUE(says(tests::content(b.log), "left = \"9 mm\""));
}

TEST(CommandLog, RefusesAnEmptyLogAndMistakesInIt) {
    const Logged b;
    const Called empty = called({"log", b.bow, b.log});
    EXPECT_EQ(empty.status, 2);
    EXPECT_TRUE(says(empty.errors, "the log has no entries")) << empty.errors;
    tests::written(b.log, "[[entry]]\ndate = \"soon\"\n");
    const Called wrong = called({"log", b.bow, b.log});
    EXPECT_EQ(wrong.status, 2);
    EXPECT_TRUE(says(wrong.errors, "log.toml:2:")) << wrong.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_log_test
