#include "postproc/commands/command_effects.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_effects_test {
namespace {

using nlohmann::json;
using tests::Bench;
using tests::called;
using tests::Called;
using tests::says;

json effects(const std::string& bow, const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{"effects", bow, "--json"};
    words.insert(words.end(), more.begin(), more.end());
    return json::parse(called(words).output);
}

/// Change of a measure by a setting, by their names.
double change(const json& result, const std::string& measure, const std::string& at,
              const std::string& setting) {
    for (std::size_t s = 0; s < result["settings"].size(); ++s)
        if (result["settings"][s]["name"] == setting)
            for (const json& effect : result["effects"])
                if (effect["measure"] == measure && effect["at"] == at)
                    return effect["change"][s].get<double>();
    throw std::runtime_error("no change of " + measure + " by " + setting);
}

int characters(const std::string& text) {
    return static_cast<int>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & '\xC0') != '\x80'; }));
}

TEST(CommandEffects, PrintsBraceAndFullDrawWithALineForEverySetting) {
    const Bench bench;
    const Called shown = called({"effects", bench.bow});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    for (const char* words :
         {"small bow\n", "keep their natural lengths", "\nAt brace\n", "\nAt full draw\n",
          "\nlimb number, top left: 1 number stiffer ",
          "\nspacers, top: 1.5 mm spacer to right, cam 1.5 mm left ", "\nguide, lateral: 1 mm left ",
          "\nlimb bolt, bottom: 1 turn out ", "\ntwist, string: 1 turn shorter "})
        EXPECT_TRUE(says(shown.output, words)) << words << shown.output;
}

TEST(CommandEffects, TablesFitAHundredColumns) {
    for (const char* bow : {"crossed", "yoked"})
        for (const std::vector<std::string>& more : {std::vector<std::string>{}, {"--all"}}) {
            std::vector<std::string> words{"effects", std::string(SOURCE_DIR) + "/examples/" + bow + ".toml"};
            words.insert(words.end(), more.begin(), more.end());
            const Called shown = called(words);
            EXPECT_EQ(shown.status, 0) << shown.errors;
            for (const std::string& line : tests::lines_of(shown.output))
                EXPECT_LE(characters(line), 100) << line;
        }
}

TEST(CommandEffects, BraceAndFullDrawAreOneBlockOfColumnsEach) {
    const Called shown = called({"effects", std::string(SOURCE_DIR) + "/examples/yoked.toml"});
    const std::string head = "\n(today's value)";
    int blocks = 0;
    for (std::size_t at = shown.output.find(head); at != std::string::npos;
         at = shown.output.find(head, at + 1))
        ++blocks;
    EXPECT_EQ(blocks, 2) << shown.output;
}

TEST(CommandEffects, TellsWhereTheNockingPointStaysOnlyForABowThatDrawsToItsStops) {
    const Bench bench;
    EXPECT_FALSE(says(called({"effects", bench.bow}).output, "draw to the stops"));
    EXPECT_TRUE(says(called({"effects", std::string(SOURCE_DIR) + "/examples/yoked.toml"}).output,
                     "draw to the stops"));
}

TEST(CommandEffects, TheWarningOfDangerIsNotPartOfTheResults) {
    const Bench bench;
    const Called shown = called({"effects", bench.bow});
    EXPECT_TRUE(says(shown.errors, "qualified technician"));
    EXPECT_FALSE(says(shown.output, "technician"));
}

TEST(CommandEffects, AllShowsMeasuresThatTheFirstLookLeavesOut) {
    const Bench bench;
    const std::string measure = "bearing side force, top [N]";
    EXPECT_FALSE(says(called({"effects", bench.bow}).output, measure));
    const Called all = called({"effects", bench.bow, "--all"});
    EXPECT_TRUE(says(all.output, measure)) << all.output;
    for (const char* title : {"\nAt brace\n", "\nAt peak\n", "\nAt full draw\n", "\nThe draw as a whole\n"})
        EXPECT_TRUE(says(all.output, title)) << title;
}

TEST(CommandEffects, JsonIsAllThatStandsOnStandardOutput) {
    const Bench bench;
    const Called shown = called({"effects", bench.bow, "--json"});
    EXPECT_EQ(shown.status, 0);
    ASSERT_TRUE(json::accept(shown.output)) << shown.output;
    const json result = json::parse(shown.output);
    EXPECT_EQ(result["schema"], "limbwright effects");
    EXPECT_EQ(result["bow"], "small bow");
    EXPECT_EQ(result["lengths"], "kept");
    for (const json& effect : result["effects"])
        EXPECT_EQ(effect["change"].size(), result["settings"].size()) << effect["measure"];
}

TEST(CommandEffects, JsonGivesStepsInTheirUnits) {
    const Bench bench;
    const json result = effects(bench.bow);
    for (const json& setting : result["settings"])
        if (setting["name"] == "guide, angle") {
            EXPECT_NEAR(setting["step"].get<double>(), 1, 1e-12);
            EXPECT_EQ(setting["unit"], "deg");
        }
    EXPECT_EQ(result["settings"].size(), 16u);
}

TEST(CommandEffects, ReTimedKeepsAxleToAxle) {
    const Bench bench;
    const json kept = effects(bench.bow), re_timed = effects(bench.bow, {"--re-timed"});
    EXPECT_EQ(re_timed["lengths"], "re-timed");
    EXPECT_LT(change(kept, "axle-to-axle", "whole draw", "limb bolt, top"), -0.01);
    EXPECT_NEAR(change(re_timed, "axle-to-axle", "whole draw", "limb bolt, top"), 0, 1e-5);
    EXPECT_TRUE(says(called({"effects", bench.bow, "--re-timed"}).output, "are re-timed"));
}

TEST(CommandEffects, TakesAnotherSpacer) {
    const Bench bench;
    const json thin = effects(bench.bow, {"--spacer", "0.5 mm"}), thinnest = effects(bench.bow);
    const auto lean = [](const json& r) { return change(r, "cam lean, top", "full draw", "spacers, top"); };
    // The thinnest in the bow has 1.5 mm. Truncation over a hundredth of a step is of order 1e-4.
    EXPECT_NEAR(lean(thinnest) / lean(thin), 3, 3e-3);
    EXPECT_TRUE(says(called({"effects", bench.bow, "--spacer", "0.5 mm"}).output,
                     "spacers, top: 0.5 mm spacer to right, cam 0.5 mm left"));
}

TEST(CommandEffects, RefusesASpacerThatCannotBe) {
    const Bench bench;
    for (const char* spacer : {"0 mm", "-1 mm", "80 mm"}) {
        const Called refused = called({"effects", bench.bow, std::string("--spacer=") + spacer});
        EXPECT_EQ(refused.status, 2);
        EXPECT_EQ(refused.output, "");
        EXPECT_TRUE(refused.errors.starts_with("--spacer must be above 0 mm")) << refused.errors;
    }
}

TEST(CommandEffects, ABowThatCannotBeStrungIsToldInASentence) {
    const Bench bench;
    const std::string bow = bench.bow_with("axle_to_axle = \"838 mm\"", "axle_to_axle = \"1200 mm\"");
    const Called failed = called({"effects", bow});
    EXPECT_EQ(failed.status, 1);
    EXPECT_EQ(failed.output, "");
    EXPECT_TRUE(failed.errors.starts_with("small bow could not be strung: ")) << failed.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_effects_test
