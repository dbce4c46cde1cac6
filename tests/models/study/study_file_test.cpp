#include "models/study/study_file.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <string>

#include "models/input/input_error.hpp"
#include "models/study/design_space.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::study_file_test {
namespace {

namespace fs = std::filesystem;

const fs::path examples = fs::path(SOURCE_DIR) / "examples";

const std::string study_text = R"(bow = "crossed.toml"
[limbs]
numbers = [51, 49, 50, 50]
[[spacers]]
thickness = "1.5 mm"
count = 4
[[spacers]]
thickness = "2.5 mm"
count = 4
[[range]]
setting = "guide, lateral"
from = "-2 mm"
to = "2 mm"
step = "1 mm"
[[aim]]
measure = "cam lean, top"
less = "cam lean, bottom"
at = "full draw"
want = "target"
target = 0
within = 0.05
[[limit]]
measure = "clearance"
at = "full draw"
at_least = 2
)";

StudyFile read(const std::string& text) {
    return study_from_toml(text, examples / "s.toml");
}

/// What reading says, without the folder's name.
std::string said(const std::string& text, const fs::path& folder = examples) {
    try {
        (void)study_from_toml(text, folder / "s.toml");
    } catch (const InputError& error) {
        std::string what = error.what();
        const std::string own = folder.string() + "/";
        for (auto at = what.find(own); at != std::string::npos; at = what.find(own))
            what.erase(at, own.size());
        return what;
    }
    return "nothing";
}

std::string said_of(std::string_view passage, std::string_view instead) {
    return said(replaced(study_text, passage, instead));
}

TEST(StudyFile, HoldsTheStudyInOwnUnits) {
    const StudyFile file = read(study_text);
    const Study& study = file.study;
    EXPECT_EQ(study.name, "s");
    EXPECT_EQ(study.limbs, (std::vector<double>{51, 49, 50, 50}));
    ASSERT_EQ(study.spacers.size(), 2u);
    EXPECT_EQ(study.spacers[1].thickness, 2.5);
    EXPECT_EQ(study.spacers[1].count, 4);
    ASSERT_EQ(study.ranges.size(), 1u);
    EXPECT_EQ(study.ranges[0].setting, "guide, lateral");
    EXPECT_EQ(study.ranges[0].steps.from, -2);
    ASSERT_EQ(study.aims.size(), 1u);
    EXPECT_EQ(study.aims[0].quantity, (Quantity{"cam lean, top", "cam lean, bottom", DrawPlace::full_draw}));
    EXPECT_EQ(study.aims[0].within, 0.05);
    EXPECT_EQ(study.aims[0].weight, 1);
    ASSERT_EQ(study.limits.size(), 1u);
    EXPECT_EQ(study.limits[0].at_least, 2);
    EXPECT_TRUE(std::isinf(study.limits[0].at_most));
    EXPECT_EQ(study.lengths, LengthRule::kept);
}

TEST(StudyFile, BringsItsBow) {
    const StudyFile file = read(study_text);
    EXPECT_EQ(file.bow.name, "Marsh Heron 33, right hand");
    EXPECT_EQ(file.bow_file, examples / "crossed.toml");
}

TEST(StudyFile, AnglesOfARangeLeaveInRadians) {
    const StudyFile file = read(replaced(study_text, R"("guide, lateral"
from = "-2 mm"
to = "2 mm"
step = "1 mm")",
                                         R"("guide, angle"
from = "-180 deg"
to = "180 deg"
step = "90 deg")"));
    EXPECT_DOUBLE_EQ(file.study.ranges[0].steps.to, std::acos(-1));
}

TEST(StudyFile, TurnsOfARangeArePlainNumbers) {
    const StudyFile file = read(replaced(study_text, R"("guide, lateral"
from = "-2 mm"
to = "2 mm"
step = "1 mm")",
                                         R"("limb bolt, top"
from = 0
to = 2
step = 0.5)"));
    EXPECT_EQ(file.study.ranges[0].steps.step, 0.5);
}

TEST(StudyFile, AMeasureOfTheWholeDrawHasNoPlace) {
    const StudyFile file =
        read(study_text + "[[aim]]\nmeasure = \"let-off\"\nwant = \"most\"\nweight = 0.1\n");
    EXPECT_EQ(file.study.aims[1].quantity, (Quantity{"let-off", {}, DrawPlace::whole}));
    EXPECT_EQ(file.study.aims[1].wish, Wish::most);
}

TEST(StudyFile, WhatMayChangeMayBeLeftOut) {
    const auto range = study_text.find("[[range]]"), limbs = study_text.find("[limbs]");
    const Study study = read(study_text.substr(0, limbs) + study_text.substr(range)).study;
    EXPECT_TRUE(study.limbs.empty());
    EXPECT_TRUE(study.spacers.empty());
}

TEST(StudyFile, AMissingFileIsAnInputError) {
    EXPECT_THROW((void)read_study(examples / "none.toml"), InputError);
}

TEST(StudyFile, AMissingBowIsToldWhereItIsNamed) {
    EXPECT_EQ(said_of("crossed.toml", "none.toml"),
              "s.toml:1:7: bow must name a bow file beside this one, but none.toml cannot be read");
}

TEST(StudyFile, EverythingWrongIsToldAtOnce) {
    std::string text = replaced(study_text, "[51, 49, 50, 50]", "[51, -49, 50, 50]");
    text = replaced(text, "count = 4", "count = 4.5");
    text = replaced(text, "within = 0.05", "within = -1");
    text = replaced(text, "at_least = 2", "at_leats = 2");
    EXPECT_EQ(
        said(text),
        "s.toml:3:16: limbs.numbers[1] must be above 0, but is -49\n"
        "s.toml:6:9: spacers[0].count must be a whole number between 1 and 100, but is 4.5\n"
        "s.toml:21:10: aim[0].within must be at least 0, but is -1\n"
        "s.toml:22:1: limit[0].at_least is missing, and so is at_most; one of them must be a plain number\n"
        "s.toml:25:1: limit[0].at_leats is not a known key; did you mean limit[0].at_least?");
}

TEST(StudyFile, MistakesInTheBowFileAreToldBesideThoseInTheStudy) {
    const fs::path folder = fs::temp_directory_path() / "study_file_with_wrong_bow";
    fs::create_directories(folder);
    std::ofstream(folder / "crossed.toml") << replaced(crossed_bow_text, "fill = 0.55", "fill = 1.55");
    const std::string text = said(replaced(study_text, "step = \"1 mm\"", "stepp = \"1 mm\""), folder);
    fs::remove_all(folder);
    EXPECT_EQ(text,
              "s.toml:14:1: range[0].stepp is not a known key; did you mean range[0].step?\n"
              "crossed.toml:7:8: riser.fill must be above 0 and at most 1, but is 1.55");
}

TEST(StudyFile, AWrongSettingListsThoseOfThisBow) {
    const std::string text = said_of("guide, lateral", "guide, latteral");
    EXPECT_EQ(text.substr(0, 52), "s.toml:11:11: range[0].setting must be one of \"limb ") << text;
    EXPECT_NE(text.find("\"guide, lateral\""), std::string::npos);
    EXPECT_NE(text.find(", but is \"guide, latteral\""), std::string::npos);
}

TEST(StudyFile, AWrongMeasureIsAdvised) {
    const std::string text = said_of("\"cam lean, top\"", "\"cam leen, top\"");
    const std::string_view start =
        "s.toml:16:11: aim[0].measure must name a measure; the nearest are \"cam lean, top\", ";
    EXPECT_EQ(text.substr(0, start.size()), start);
}

TEST(StudyFile, AMeasureOfStatesNeedsAPlace) {
    EXPECT_EQ(said_of("measure = \"clearance\"\nat = \"full draw\"", "measure = \"clearance\""),
              "s.toml:23:11: limit[0].measure must come with `at`, \"brace\", \"peak\" or \"full draw\", "
              "because it "
              "differs from state to state, but is \"clearance\"");
}

TEST(StudyFile, AMeasureOfTheWholeDrawTakesNoPlace) {
    EXPECT_EQ(said_of("\"clearance\"", "\"let-off\""),
              "s.toml:23:11: limit[0].measure must come without `at`, because it belongs to the draw as a "
              "whole, but "
              "is \"let-off\"");
}

TEST(StudyFile, OnlyMeasuresOfOneUnitAreTakenOffEachOther) {
    EXPECT_EQ(said_of("less = \"cam lean, bottom\"", "less = \"clearance\""),
              "s.toml:17:8: aim[0].less must have the unit of `measure`, deg, but is in mm");
}

TEST(StudyFile, AnAimAtATargetNeedsIt) {
    EXPECT_EQ(said_of("target = 0\n", ""),
              "s.toml:15:1: aim[0].target is missing; it must be a plain number");
    EXPECT_EQ(said_of("want = \"target\"\n", "want = \"least\"\n"),
              "s.toml:20:10: aim[0].target must only stand with want = \"target\"\n"
              "s.toml:21:10: aim[0].within must only stand with want = \"target\"");
}

TEST(StudyFile, AWeightIsAboveZero) {
    EXPECT_EQ(said_of("within = 0.05", "weight = 0"),
              "s.toml:21:10: aim[0].weight must be above 0, but is 0");
}

TEST(StudyFile, NeedsAnAim) {
    const std::string text = study_text.substr(0, study_text.find("[[aim]]"));
    EXPECT_EQ(said(text), "s.toml:1:1: aim is missing; it must be a list of tables { ... }");
    EXPECT_EQ(said("aim = []\n" + text), "s.toml:1:7: aim must hold at least one aim, but is a list of 0");
}

TEST(StudyFile, ARangeRunsUpInAtMostAThousandSteps) {
    EXPECT_EQ(said_of("from = \"-2 mm\"", "from = \"3 mm\""),
              "s.toml:13:6: range[0].to must not be below `from`, 3 mm, but is 2 mm");
    EXPECT_EQ(said_of("step = \"1 mm\"", "step = \"0 mm\""),
              "s.toml:14:8: range[0].step must be above 0 mm, but is 0 mm");
    EXPECT_EQ(said_of("step = \"1 mm\"", "step = \"1 um\""),
              "s.toml:14:8: range[0].step must make at most 1000 values, but makes 4001");
}

TEST(StudyFile, ASettingIsRangedOverOnce) {
    EXPECT_EQ(said(study_text + "[[range]]\nsetting = \"guide, lateral\"\nfrom = \"0 mm\"\nto = \"1 mm\"\n"
                                "step = \"1 mm\"\n"),
              "s.toml:27:11: range[1].setting must not be ranged over twice, but is \"guide, lateral\"");
}

TEST(StudyFile, SpacersAndLimbsAreNoRanges) {
    EXPECT_EQ(
        said_of("guide, lateral", "spacers, top"),
        "s.toml:11:11: range[0].setting must not be one that limbs and spacers in hand decide: list those in "
        "[limbs] and [[spacers]], but is \"spacers, top\"");
}

TEST(StudyFile, ALimbBoltIsNotTurnedBelowItsSeat) {
    EXPECT_EQ(said_of(R"("guide, lateral"
from = "-2 mm"
to = "2 mm"
step = "1 mm")",
                      R"("limb bolt, bottom"
from = -1
to = 2
step = 1)"),
              "s.toml:12:8: range[0].from must not be below 0, the seat of the bottom limb bolt, but is -1");
}

TEST(StudyFile, SpacersOfOneThicknessAreCountedTogether) {
    EXPECT_EQ(said_of("\"2.5 mm\"", "\"0.15 cm\""),
              "s.toml:8:13: spacers[1].thickness must differ from those before it: count alike ones "
              "together, but is "
              "1.5 mm");
}

TEST(StudyFile, ABoxThatFillsNoGapIsToldByHowMuchItMisses) {
    const std::string text = said_of("\"1.5 mm\"", "\"5.8 mm\"");
    EXPECT_EQ(
        text.substr(0, text.find('\n')),
        "s.toml:4:1: spacers must fill the gap at the top cam within the play of 0.3 mm in at least one way: "
        "the nearest is 0.2 mm too short");
}

TEST(StudyFile, EmptyListsAreMistakes) {
    EXPECT_EQ(said_of("[51, 49, 50, 50]", "[]"),
              "s.toml:3:11: limbs.numbers must hold the limbs in hand, but is a list of 0");
    EXPECT_EQ(said_of("numbers = [51, 49, 50, 50]\n", ""),
              "s.toml:2:1: limbs.numbers is missing; it must be a list such as [51, 49, 50, 50]");
}

TEST(StudyFile, ALimitBelowItselfIsAMistake) {
    EXPECT_EQ(said_of("at_least = 2", "at_least = 2\nat_most = 1"),
              "s.toml:26:11: limit[0].at_most must not be below at_least, 2, but is 1");
}

TEST(StudyFile, LengthsAreReTimedToTheMeasurementsAtBrace) {
    EXPECT_EQ(read("lengths = \"re-timed\"\n" + study_text).study.lengths, LengthRule::re_timed);
}

TEST(StudyFile, ReTimingABowWithoutMeasurementsAtBraceIsRefused) {
    const fs::path folder = fs::temp_directory_path() / "study_file_without_brace";
    fs::create_directories(folder);
    for (const char* groove : {"crossed_string.csv", "crossed_take_up.csv", "crossed_let_out.csv"})
        fs::copy_file(examples / groove, folder / groove, fs::copy_options::overwrite_existing);
    std::ifstream stream(examples / "crossed.toml");
    std::string bow(std::istreambuf_iterator<char>(stream), {});
    bow = without(
        bow,
        "[brace]\naxle_to_axle = \"33 in\"\nnocking_point_height = \"20 mm\"\nbrace_height = \"7 in\"\n");
    bow = replaced(bow, "[cables]\n",
                   "[cables]\nstring_above = \"700 mm\"\nstring_below = \"700 mm\"\n"
                   "natural_lengths = [\"900 mm\", \"900 mm\"]\n");
    std::ofstream(folder / "crossed.toml") << bow;
    const std::string text = said("lengths = \"re-timed\"\n" + study_text, folder);
    fs::remove_all(folder);
    EXPECT_EQ(
        text,
        "s.toml:1:11: lengths must be \"kept\": lengths are re-timed until what was measured at brace is met "
        "again, and the bow's file has natural lengths only, no [brace], but is \"re-timed\"");
}

TEST(StudyFile, SaysHowToGoAboutIt) {
    const Study study =
        read("name = \"n\"\nstates = 5\nkeep = 7\ndrawn = 0\nsolve_all = 9\n" + study_text).study;
    EXPECT_EQ(study.name, "n");
    EXPECT_EQ(study.states, 5);
    EXPECT_EQ(study.keep, 7);
    EXPECT_EQ(study.drawn, 0);
    EXPECT_EQ(study.solve_all, 9);
}

TEST(StudyFile, TheExamplesAskForWhatTheySay) {
    const auto size = [](const char* name) {
        const StudyFile file = read_study(examples / name);
        return Product(file.bow, file.study).size();
    };
    EXPECT_EQ(size("rebuilds.toml"), 12 * 81 * 5);
    EXPECT_EQ(size("rebuilds_of_four.toml"), 24 * 81 * 5);
    EXPECT_EQ(size("stock_of_twelve.toml"), 11880 * 81 * 5);
}

TEST(StudyFileFuzz, AFileWithAnyLineLeftOutIsReadOrRefused) {
    for (std::size_t begin = 0; begin < study_text.size();) {
        const std::size_t end = study_text.find('\n', begin) + 1;
        try {
            (void)read(study_text.substr(0, begin) + study_text.substr(end));
        } catch (const InputError& error) {
            EXPECT_FALSE(error.complaints().empty());
        }
        begin = end;
    }
}

TEST(StudyFileFuzz, AFileWithAnyValueReplacedIsReadOrRefused) {
    for (const std::string_view token : {"= \"", "= [", "= 4", "0.05"})
        for (const std::string_view instead : {"= {}\n#", "= []\n#", "= nan\n#", "= -1e308\n#"})
            for (auto at = study_text.find(token); at != std::string::npos;
                 at = study_text.find(token, at + 1)) {
                std::string text = study_text;
                text.replace(at, token.size(), instead);
                try {
                    (void)read(text);
                } catch (const InputError& error) {
                    EXPECT_FALSE(error.complaints().empty());
                }
            }
}

}  // namespace
}  // namespace limbwright::models::study_file_test
