#include "postproc/commands/command_report.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "tests/postproc/program.hpp"

namespace limbwright::postproc::command_report_test {
namespace {

using tests::Bench;
using tests::called;
using tests::Called;
using tests::content;
using tests::says;

const std::string guides =
    "name = \"places of the guide\"\nbow = \"small.toml\"\n[[range]]\nsetting = \"guide, lateral\"\nfrom = "
    "\"-1 mm\"\nto = \"1 mm\"\nstep = \"1 mm\"\n[[aim]]\nmeasure = \"cam lean, top\"\nat = \"full "
    "draw\"\nwant = \"target\"\ntarget = 0\n";

TEST(CommandReport, WritesOneFileAndSaysWhere) {
    const Bench bench;
    const std::string file = (bench.folder / "small.html").string();
    const Called shown = called({"report", bench.bow, "-o", file});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    EXPECT_EQ(shown.output, "The report is in " + file + ".\n");
    EXPECT_TRUE(says(shown.errors, "qualified technician"));
    EXPECT_TRUE(content(file).starts_with("<!DOCTYPE html>"));
    EXPECT_FALSE(says(content(file), "class=\"sheet\""));
}

TEST(CommandReport, ShowsTheRankingOfAStudyAndTheSheetOfATear) {
    const Bench bench;
    const std::string file = (bench.folder / "small.html").string(),
                      study = tests::written(bench.folder / "study.toml", guides).string();
    const Called shown = called(
        {"report", bench.bow, "--study", study, "--tear", SOURCE_DIR "/examples/tear_left.toml", "-o", file});
    EXPECT_EQ(shown.status, 0) << shown.errors;
    EXPECT_TRUE(says(content(file), "the ranking of places of the guide"));
    EXPECT_TRUE(says(content(file), "class=\"sheet\""));
}

TEST(CommandReport, TheDemoBowsReportIsSmallEnoughToSend) {
    const Bench bench;
    const std::string file = (bench.folder / "crossed.html").string();
    ASSERT_EQ(called({"report", SOURCE_DIR "/examples/crossed.toml", "-o", file}).status, 0);
    EXPECT_LT(std::filesystem::file_size(file), 4'000'000U);
}

TEST(CommandReport, RefusesAFileOfAnotherKind) {
    const Bench bench;
    const Called refused = called({"report", bench.bow, "-o", "report.pdf"});
    EXPECT_EQ(refused.status, 2);
    EXPECT_TRUE(says(refused.errors, "must end in .html")) << refused.errors;
}

TEST(CommandReport, RefusesAStudyOfAnotherBow) {
    const Bench bench;
    const std::string study = tests::written(bench.folder / "study.toml", guides).string();
    const Called refused = called({"report", SOURCE_DIR "/examples/crossed.toml", "--study", study});
    EXPECT_EQ(refused.status, 2);
    EXPECT_TRUE(says(refused.errors, "is of the bow in")) << refused.errors;
}

TEST(CommandReport, ABowThatCannotBeStrungIsToldInASentence) {
    const Bench bench;
    const std::string bow = bench.bow_with("axle_to_axle = \"838 mm\"", "axle_to_axle = \"1200 mm\""),
                      file = (bench.folder / "no.html").string();
    const Called failed = called({"report", bow, "-o", file});
    EXPECT_EQ(failed.status, 1);
    EXPECT_TRUE(says(failed.errors, "small bow could not be strung and drawn: ")) << failed.errors;
    EXPECT_FALSE(std::filesystem::exists(file));
}

}  // namespace
}  // namespace limbwright::postproc::command_report_test
