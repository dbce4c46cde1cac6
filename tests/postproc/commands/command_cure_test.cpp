#include "postproc/commands/command_cure.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_cure_test {
namespace {

using nlohmann::json;
using tests::Bench;
using tests::called;
using tests::Called;
using tests::content;
using tests::says;

const std::string crossed = SOURCE_DIR "/examples/crossed.toml", left = SOURCE_DIR "/examples/tear_left.toml";

TEST(CommandCure, ReadsATearAndPrintsPracticeAndCures) {
    const Called shown = called({"cure", crossed, "--tear", left});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    for (const char* words : {"Paper tear: tail left, 22 mm, at 2 m", "Shaft: plausible", "the model agrees",
                              "1. arrow rest 2 mm left"})
        EXPECT_TRUE(says(shown.output, words)) << words << shown.output;
    EXPECT_TRUE(says(shown.errors, "qualified technician"));
    EXPECT_FALSE(says(shown.output, "technician"));
}

TEST(CommandCure, TakesATearFromTheCommandLine) {
    const Bench bench;
    const Called shown =
        called({"cure", bench.bow, "--tail", "high left", "--size", "20 mm", "--distance", "3 m"});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    EXPECT_TRUE(says(shown.output, "tail high left, 14.1 mm to the left and 14.1 mm up, at 3 m"))
        << shown.output;
    EXPECT_FALSE(says(shown.output, "Shaft:"));
}

TEST(CommandCure, WritesTheSheetOfTheCureThatIsPicked) {
    const Bench bench;
    const auto svg = bench.folder / "sheet.svg", html = bench.folder / "sheet.html";
    EXPECT_EQ(
        called({"cure", bench.bow, "--tail", "left", "--size", "20 mm", "--sheet", svg.string()}).status, 0);
    const Called second = called(
        {"cure", bench.bow, "--tail", "left", "--size", "20 mm", "--pick", "2", "--sheet", html.string()});
    EXPECT_EQ(second.status, 0) << second.errors;
    EXPECT_TRUE(says(content(svg), "Bench sheet: small bow"));
    EXPECT_TRUE(content(svg).starts_with("<svg"));
    EXPECT_TRUE(content(html).starts_with("<!DOCTYPE html>"));
    EXPECT_TRUE(says(second.errors, "The bench sheet of cure 2 is in "));
}

TEST(CommandCure, SaysWhenThereIsNoSuchCure) {
    const Bench bench;
    const auto sheet = bench.folder / "sheet.svg";
    const Called none = called(
        {"cure", bench.bow, "--tail", "left", "--size", "9 mm", "--pick", "99", "--sheet", sheet.string()});
    EXPECT_EQ(none.status, 1);
    EXPECT_TRUE(says(none.errors, "there is no cure 99")) << none.errors;
    EXPECT_FALSE(std::filesystem::exists(sheet));
}

TEST(CommandCure, JsonIsAllThatStandsOnStandardOutput) {
    const Bench bench;
    const Called shown = called({"cure", bench.bow, "--tail", "right", "--size", "20 mm", "--json"});
    ASSERT_TRUE(json::accept(shown.output)) << shown.output;
    EXPECT_EQ(json::parse(shown.output)["schema"], "limbwright cure");
}

TEST(CommandCure, TurnsBoltsAndTakesSparePartsIfAsked) {
    const auto output = [](const std::vector<std::string>& more) {
        std::vector<std::string> words{"cure", crossed, "--tail", "low", "--size", "20 mm"};
        words.insert(words.end(), more.begin(), more.end());
        return called(words).output;
    };
    EXPECT_FALSE(says(output({}), "limb bolt"));
    EXPECT_TRUE(says(output({"--bolts"}), "limb bolt"));
    EXPECT_TRUE(says(output({"--limb", "53", "--limb", "47"}), "limb 53"));
}

TEST(CommandCure, RefusesOptionsThatDoNotGoTogether) {
    const Bench bench;
    const auto refused = [&](std::vector<std::string> more, const std::string& words) {
        more.insert(more.begin(), {"cure", bench.bow});
        const Called call = called(more);
        EXPECT_EQ(call.status, 2);
        EXPECT_EQ(call.output, "");
        EXPECT_TRUE(says(call.errors, words)) << call.errors;
    };
    refused({}, "a tear is needed");
    refused({"--tail", "left"}, "a tear is needed");
    refused({"--tail", "aside", "--size", "9 mm"}, "--tail must be left");
    refused({"--tail", "left", "--size", "9 m"}, "--size must be above 0 mm");
    refused({"--tear", left, "--tail", "left"}, "leave out");
    refused({"--tear", "/nowhere.toml"}, "cannot be read");
    refused({"--tail", "none"}, "there is no tear to cure");
    refused({"--tail", "left", "--size", "9 mm", "--sheet", "sheet.pdf"}, "must end in .svg or .html");
}

TEST(CommandCure, WithBenchNumbersTellsHowSureItIs) {
    const Bench bench;
    const std::string sheet =
        tests::written(bench.folder / "bench.toml", "axle_to_axle = \"840 mm\"\n").string();
    const json shown = json::parse(
        called({"cure", bench.bow, "--bench", sheet, "--tail", "left", "--size", "20 mm", "--json"}).output);
    ASSERT_FALSE(shown["cures"].empty());
    EXPECT_GT(shown["cures"][0]["answered_sigma"], 0);
    const json without =
        json::parse(called({"cure", bench.bow, "--tail", "left", "--size", "20 mm", "--json"}).output);
    EXPECT_TRUE(without["cures"][0]["answered_sigma"].is_null());
}

TEST(CommandCure, EntersInTheLogOnlyWhatIsPicked) {
    const Bench bench;
    const std::string log = (bench.folder / "log.toml").string();
    const std::vector<std::string> look{"cure", bench.bow, "--tail", "left", "--size", "20 mm", "--log", log};
    EXPECT_EQ(called(look).status, 0);
    EXPECT_FALSE(says(content(log), "[entry.plan]"));
    std::vector<std::string> pick = look;
    pick.insert(pick.end(), {"--pick", "1"});
    EXPECT_EQ(called(pick).status, 0);
    EXPECT_TRUE(says(content(log), "[entry.plan]"));
    const std::string text = content(log);
    EXPECT_EQ(text.find("tear = "), text.rfind("tear = "));  // entered once
}

TEST(CommandCure, ABowThatCannotBeStrungIsToldInASentence) {
    const Bench bench;
    const std::string bow = bench.bow_with("axle_to_axle = \"838 mm\"", "axle_to_axle = \"1200 mm\"");
    const Called failed = called({"cure", bow, "--tail", "left", "--size", "9 mm"});
    EXPECT_EQ(failed.status, 1);
    EXPECT_TRUE(says(failed.errors, "small bow could not be strung and drawn: ")) << failed.errors;
}

}  // namespace
}  // namespace limbwright::postproc::command_cure_test
