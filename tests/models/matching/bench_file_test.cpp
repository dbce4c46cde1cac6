#include "models/matching/bench_file.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "models/input/units.hpp"
#include "models/matching/observables.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::bench_file_test {
namespace {

namespace fs = std::filesystem;
using limbwright::testing::small_bow;

/// A folder of its own, gone at the end.
struct Folder {
    fs::path path = fs::temp_directory_path() /
                    ("bench_" + std::string(::testing::UnitTest::GetInstance()->current_test_info()->name()));
    Folder() { fs::create_directories(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() { fs::remove_all(path); }
    void write(const std::string& name, const std::string& text) const { std::ofstream(path / name) << text; }
};

BenchRecord read(const std::string& text, const fs::path& folder = {}) {
    return bench_from_toml(text, folder / "b.toml", small_bow());
}

std::string said(const std::string& text, const fs::path& folder = {}) {
    try {
        (void)read(text, folder);
    } catch (const InputError& error) {
        std::string what = error.what();
        const std::string own = folder.string() + "/";
        if (own != "/")
            for (auto at = what.find(own); at != std::string::npos; at = what.find(own))
                what.erase(at, own.size());
        return what;
    }
    return "no complaint";
}

TEST(Bench, ReadsNumbersWithTheirDefaultUncertaintyAndLine) {
    const BenchRecord sheet = read("name = \"spring\"\naxle_to_axle = \"33 in\"\nlet_off = \"78 %\"\n");
    EXPECT_EQ(sheet.name, "spring");
    ASSERT_EQ(sheet.measurements.size(), 2);
    EXPECT_EQ(sheet.measurements[0].quantity, "axle_to_axle");
    EXPECT_DOUBLE_EQ(sheet.measurements[0].value, 838.2);
    EXPECT_EQ(sheet.measurements[0].sigma, bench_sigma::tape);
    EXPECT_EQ(sheet.measurements[0].line, 2);
    EXPECT_EQ(sheet.measurements[1].value, 78);
    EXPECT_EQ(sheet.measurements[1].sigma, bench_sigma::let_off);
}

TEST(Bench, ReadsHowSureANumberIs) {
    const BenchRecord sheet = read("timing_brace = { is = \"1 deg\", sure = \"0.5 deg\" }\n");
    ASSERT_EQ(sheet.measurements.size(), 1);
    EXPECT_DOUBLE_EQ(sheet.measurements[0].value, units::degree);
    EXPECT_DOUBLE_EQ(sheet.measurements[0].sigma, 0.5 * units::degree);
}

TEST(Bench, ReadsDrawWeightsWithTheirDrawLengths) {
    const BenchRecord sheet = read(
        "draw_weight = [\n{ at = \"20 in\", force = \"50 lbf\" },\n"
        "{ at = \"24 in\", force = \"58 lbf\", sure = \"1 N\" } ]\n");
    ASSERT_EQ(sheet.measurements.size(), 2);
    EXPECT_DOUBLE_EQ(*sheet.measurements[1].at, 24 * units::inch);
    EXPECT_DOUBLE_EQ(sheet.measurements[1].value, 58 * units::pound);
    EXPECT_EQ(sheet.measurements[1].sigma, 1);
    EXPECT_EQ(sheet.measurements[1].line, 3);
}

TEST(Bench, ReadsAForceDrawCurveInEitherUnits) {
    const Folder folder;
    folder.write("inches.csv", "# by the scale\ndraw_in, force_lbf\n20, 50\n\n24, 58\n");
    folder.write("metric.csv", "draw_mm,force_N\n508,222\n");
    const BenchRecord sheet = read("force_draw = \"inches.csv\"\n", folder.path);
    ASSERT_EQ(sheet.measurements.size(), 2);
    EXPECT_DOUBLE_EQ(*sheet.measurements[1].at, 24 * units::inch);
    EXPECT_DOUBLE_EQ(sheet.measurements[1].value, 58 * units::pound);
    EXPECT_EQ(sheet.measurements[1].line, 5);
    const BenchRecord metric = read("force_draw = { file = \"metric.csv\", sure = \"3 N\" }\n", folder.path);
    ASSERT_EQ(metric.measurements.size(), 1);
    EXPECT_EQ(*metric.measurements[0].at, 508);
    EXPECT_EQ(metric.measurements[0].sigma, 3);
}

TEST(Bench, TakesNineRowsOfALongCurveFromEndToEnd) {
    const Folder folder;
    std::string text = "draw_mm,force_N\n";
    for (int i = 0; i <= 80; ++i) text += fmt::format("{},{}\n", 300 + 5 * i, 100 + i);
    folder.write("long.csv", text);
    const BenchRecord sheet = read("force_draw = \"long.csv\"\n", folder.path);
    ASSERT_EQ(sheet.measurements.size(), 9);
    for (int i = 0; i < 9; ++i) EXPECT_EQ(*sheet.measurements[static_cast<std::size_t>(i)].at, 300 + 50 * i);
}

TEST(Bench, ReadsHowSureTheBowFilesNumbersAre) {
    const BenchRecord sheet = read(
        "axle_to_axle = \"33 in\"\n[bow_sure]\nlimb_stiffness = \"2 %\"\nlimb_number_top_left = 0.5\n"
        "cam_mark_top = \"1 deg\"\n");
    EXPECT_DOUBLE_EQ(sheet.bow_sure.at("limb_stiffness"), 0.02 * 42000);
    EXPECT_EQ(sheet.bow_sure.at("limb_number_top_left"), 0.5);
    EXPECT_DOUBLE_EQ(sheet.bow_sure.at("cam_mark_top"), units::degree);
    EXPECT_FALSE(sheet.bow_sure.contains("pocket_angle"));
}

TEST(Bench, TellsEveryMistakeAtOnceWithLineAndWish) {
    EXPECT_EQ(said("axle_to_axle = 838\nbrace_hight = \"7 in\"\nlet_off = \"12 mm\"\n"
                   "peak_weight = { is = \"60 lbf\", sure = \"0 N\" }\n"
                   "draw_weight = [ { at = \"24 in\" } ]\n[bow_sure]\nbolt_top = \"1 deg\"\n"),
              "b.toml:1:16: axle_to_axle needs a unit, such as \"45 mm\" or \"1.75 in\", but is 838\n"
              "b.toml:2:1: brace_hight is not a known key; did you mean brace_height?\n"
              "b.toml:3:11: let_off must be a percentage such as \"80 %\", but is \"12 mm\", a length\n"
              "b.toml:4:39: peak_weight.sure must be above 0 N, but is 0 N\n"
              "b.toml:5:17: draw_weight[0].force is missing; it must be a force such as \"310 N\" or \"70 "
              "lbf\"\n"
              "b.toml:7:12: bow_sure.bolt_top must be a plain number, but is \"1 deg\"");
}

TEST(Bench, RefusesADrawLengthTwice) {
    EXPECT_EQ(said("draw_weight = [ { at = \"20 in\", force = \"50 lbf\" },\n"
                   "{ at = \"508 mm\", force = \"51 lbf\" } ]\n"),
              "b.toml:2:8: draw_weight[1].at must differ from the draw lengths before it, but is 508 mm");
}

TEST(Bench, RefusesASheetWithoutMeasurements) {
    EXPECT_NE(said("name = \"nothing\"\n").find("nothing was measured"), std::string::npos);
}

TEST(Bench, TellsTheMistakesOfACurve) {
    const Folder folder;
    folder.write("head.csv", "draw,force\n1,2\n");
    folder.write("rows.csv", "draw_mm,force_N\n500,abc\n510,-3\n520,200\n515,201\n");
    folder.write("empty.csv", "draw_mm,force_N\n");
    EXPECT_EQ(said("force_draw = \"none.csv\"\n", folder.path),
              "b.toml:1:14: force_draw must name a file beside this one, but none.csv cannot be read");
    EXPECT_EQ(said("force_draw = \"head.csv\"\n", folder.path),
              "head.csv:1: the header must be \"draw_in,force_lbf\" or \"draw_mm,force_N\", but is "
              "\"draw,force\"");
    EXPECT_EQ(said("force_draw = \"rows.csv\"\n", folder.path),
              "rows.csv:2: the row must be a draw length and a force above 0 such as \"24,58.1\", but is "
              "\"500,abc\"\n"
              "rows.csv:3: the row must be a draw length and a force above 0 such as \"24,58.1\", but is "
              "\"510,-3\"\n"
              "rows.csv:5: the draw length must rise from row to row, but is 515,201");
    EXPECT_EQ(said("force_draw = { file = \"empty.csv\" }\n", folder.path),
              "b.toml:1:23: force_draw.file must name a file with rows, but empty.csv has none");
}

TEST(Bench, TellsOfAFileThatIsNotThere) {
    EXPECT_THROW((void)read_bench("/no/such/bench.toml", small_bow()), InputError);
}

TEST(BenchForm, IsFilledInByTakingTheHashFromALine) {
    const Bow bow = small_bow();
    const BenchRecord known{"today", {{"axle_to_axle", {}, 838, 1}}, {{"guide_lateral", 3}}};
    std::string form = bench_form(bow, known, {{"brace_height", {}, 172.123456, 0.51234}});
    EXPECT_NE(form.find("expected 172.123 mm ± 0.512 mm"), std::string::npos) << form;
    const std::string blank = "# brace_height = \"\"";
    ASSERT_NE(form.find(blank), std::string::npos) << form;
    form.replace(form.find(blank), blank.size(), "brace_height = \"171 mm\"");
    const BenchRecord read = bench_from_toml(form, "form.toml", bow);
    ASSERT_EQ(read.measurements.size(), 2u);
    EXPECT_EQ(read.measurements[1].value, 171);
    EXPECT_EQ(read.bow_sure.at("guide_lateral"), 3);
}

}  // namespace
}  // namespace limbwright::models::bench_file_test
