#include "postproc/results/log_results.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::log_results_test {
namespace {

/// A plan that was carried out, one number as predicted and one not.
struct MadeUp {
    models::Bow bow = testing::small_bow();
    std::vector<models::LogEntry> log;

    MadeUp() {
        models::LogEntry before;
        before.date = "2026-11-01";
        before.layout = bow.layout;
        before.tear = models::Tear{.left = 25, .arrow = {}};
        models::LogEntry plan = before;
        plan.date = "2026-11-02";
        plan.tear.reset();
        plan.layout.guide_lateral = 2;
        plan.plan = {
            "guide 2 mm left", 0.8, 0.1, {{"peak_weight", {}, 300, 3}, {"brace_height", {}, 172, 1}}};
        models::LogEntry after = plan;
        after.date = "2026-11-03";
        after.plan.reset();
        after.tear = models::Tear{.left = 4, .arrow = {}};
        after.measured = {{"peak_weight", {}, 330, 4}, {"brace_height", {}, 172.5, 1}};
        after.remark = "new string";
        log = {before, plan, after};
    }
    [[nodiscard]] LogResults results() const {
        return {bow,
                log,
                models::outcome_of(log, bow),
                {models::Next::cure, "Next: cure 2.", 2},
                nullptr,
                "limbwright cure small.toml"};
    }
};

TEST(LogResults, TellEntriesComparisonAndWhatToDoNext) {
    const MadeUp made;
    const std::string text = to_text(made.results());
    for (const char* words :
         {"2026-11-01: 0 measurements; tail left, 25 mm", "planned: guide 2 mm left, to answer 80 ± 10 %",
          "new string", "Predicted and measured after: guide 2 mm left", "CONTRADICTS", "tear answered [%]",
          "Next: cure 2.", "    limbwright cure small.toml\n"})
        EXPECT_TRUE(tests::says(text, words)) << words << "\n" << text;
    for (const std::string& line : tests::lines_of(text))
        EXPECT_LE(std::ranges::count_if(line, [](char c) { return (c & '\xC0') != '\x80'; }), 100) << line;
}

TEST(LogResults, AsJsonHoldTheSame) {
    const MadeUp made;
    const nlohmann::ordered_json json = to_json(made.results());
    EXPECT_EQ(json["schema"], "limbwright log");
    EXPECT_EQ(json["entries"].size(), 3u);
    EXPECT_EQ(json["entries"][1]["plan"]["answered"], 0.8);
    EXPECT_EQ(json["compared"][0]["sigmas"], 6);  // 30 N over √(3² + 4²) N
    EXPECT_EQ(json["compared"][0]["within"], false);
    EXPECT_EQ(json["compared"][2]["measured"], 84);  // per cent: 21 mm of 25 mm
    EXPECT_EQ(json["next"], "cure");
}

TEST(LogResults, AreSilentAboutWhatWasNotPlanned) {
    MadeUp made;
    made.log.resize(1);
    EXPECT_FALSE(tests::says(to_text(made.results()), "Predicted"));
}

}  // namespace
}  // namespace limbwright::postproc::log_results_test
