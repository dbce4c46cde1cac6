#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

/// The whole way: eight numbers and a tear, a sheet, a rebuild, what was measured then, what to do next.
namespace limbwright::postproc::bench_loop_test {
namespace {

using tests::called;
using tests::Called;
using tests::content;
using tests::says;

/// What a person types, and the files that come of it.
struct Loop {
    tests::TemporaryFolder folder;
    std::string bow = (folder / "my.toml").string(), bench = (folder / "my_bench.toml").string(),
                sheet = (folder / "sheet.svg").string(), after = (folder / "sheet_after.toml").string(),
                log = (folder / "my_log.toml").string();

    static Called done(const std::vector<std::string>& words) {
        Called call = called(words);
        EXPECT_EQ(call.status, 0) << call.errors;
        return call;
    }
    Called start() {
        return done({"start", bow, "--axle-to-axle", "33 in", "--brace-height", "7 in", "--draw-length",
                     "29 in", "--peak-weight", "60 lbf", "--limb-length", "320 mm", "--limb-width-root",
                     "24 mm", "--limb-thickness-root", "9 mm", "--limb-thickness-tip", "5.4 mm"});
    }
    Called cure() {
        return done({"cure", bow, "--bench", bench, "--tail", "left", "--size", "22 mm", "--sheet", sheet,
                     "--log", log, "--date", "2026-11-25"});
    }
};

TEST(BenchLoop, GoesFromEightNumbersAndATearToASheet) {
    Loop loop;
    EXPECT_TRUE(says(loop.start().output, "limbwright cure " + loop.bow + " --bench " + loop.bench));
    const Called cured = loop.cure();
    EXPECT_TRUE(says(cured.output, " ± ")) << cured.output;
    const std::string sheet = content(loop.sheet);
    for (const char* words : {"Bench sheet: My bow", "measured after", "limbwright log", " ± "})
        EXPECT_TRUE(says(sheet, words)) << words;
}

TEST(BenchLoop, GoesOnFromWhatIsMeasuredAfterTheRebuild) {
    Loop loop;
    (void)loop.start();
    (void)loop.cure();
    std::string form = content(loop.after);
    form = tests::replaced(form, "# brace_height = \"\"", "brace_height = \"177.5 mm\"");
    form = tests::replaced(form, "# peak_weight = \"\"", "peak_weight = \"60.2 lbf\"");
    form = tests::replaced(form, "# holding_weight = \"\"", "holding_weight = \"14 lbf\"");
    tests::written(loop.after, form);
    const auto json =
        nlohmann::json::parse(Loop::done({"log", loop.bow, loop.log, "--bench", loop.after, "--tail", "left",
                                          "--size", "12 mm", "--date", "2026-11-26", "--json"})
                                  .output);
    EXPECT_EQ(json["entries"].size(), 3u);
    ASSERT_EQ(json["compared"].size(), 4u);  // three numbers and the tear
    for (const auto& compared : json["compared"]) EXPECT_TRUE(compared["within"]) << compared;
    EXPECT_TRUE(json["next"] == "cure" || json["next"] == "measure") << json["sentence"];
    // The next cure is of the rebuilt bow, with all that was measured.
    const Called next =
        Loop::done({"cure", loop.bow, "--log", loop.log, "--pick", "1", "--date", "2026-11-27"});
    EXPECT_TRUE(says(next.output, "Paper tear: tail left, 12 mm")) << next.output;
    const Called last = Loop::done({"log", loop.bow, loop.log, "--tail", "none", "--date", "2026-11-28"});
    EXPECT_TRUE(says(last.output, "is gone")) << last.output;
}

}  // namespace
}  // namespace limbwright::postproc::bench_loop_test
