#include "models/study/study_checks.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow.hpp"

namespace limbwright::models::study_checks_test {
namespace {

/// 8 mm to fill at either cam.
Bow bow() {
    Bow bow;
    bow.gap = 28;
    bow.play = 0.3;
    bow.cam_top.hub = bow.cam_bottom.hub = 20;
    return bow;
}

Study study() {
    Study study;
    study.limbs = {51, 49, 50, 50};
    study.spacers = {{1.5, 4}, {2.5, 4}};
    study.ranges = {{"guide, lateral", {-2, 2, 1}}};
    return study;
}

/// What the checks say of it, one line a complaint.
std::string said(const Study& study, const Bow& bow) {
    Complaints complaints([](std::string_view) { return Place{}; });
    check(study, bow, complaints);
    std::string text;
    for (const Complaint& complaint : complaints.all())
        text += (text.empty() ? "" : "\n") + sentence(complaint);
    return text;
}

TEST(StudyChecks, AGoodStudyPasses) {
    EXPECT_EQ(said(study(), bow()), "");
}

TEST(StudyChecks, AStudyOfTheGuideAlonePasses) {
    Study s;
    s.ranges = {{"guide, lateral", {-2, 2, 1}}};
    EXPECT_EQ(said(s, bow()), "");
}

TEST(StudyChecks, EveryPocketNeedsALimb) {
    Study s = study();
    s.limbs = {50, 51, 52};
    EXPECT_EQ(said(s, bow()), "limbs.numbers must hold at least 4, one for each pocket, but is a list of 3");
}

TEST(StudyChecks, TwoSolidLimbsAreEnough) {
    Study s = study();
    Bow solid = bow();
    solid.limb.kind = LimbKind::solid;
    s.limbs = {50, 51};
    EXPECT_EQ(said(s, solid), "");
    s.limbs = {50};
    EXPECT_EQ(said(s, solid),
              "limbs.numbers must hold at least 2, one for each end of the bow, but is a list of 1");
}

TEST(StudyChecks, AStockHasItsLimit) {
    Study s = study();
    s.limbs.assign(41, 50);
    EXPECT_EQ(said(s, bow()), "limbs.numbers must hold at most 40, but is a list of 41");
}

TEST(StudyChecks, ABoxThatFillsNoGapIsToldByHowMuchItMisses) {
    Study s = study();
    Bow b = bow();
    s.spacers = {{2.5, 8}};
    b.cam_bottom.hub = 22.8;
    EXPECT_EQ(said(s, b),
              "spacers must fill the gap at the top cam within the play of 0.3 mm in at least one way: the "
              "nearest is "
              "0.2 mm too short");
    b.cam_bottom.hub = 23.5;
    EXPECT_EQ(said(s, b),
              "spacers must fill the gap at the top cam within the play of 0.3 mm in at least one way: the "
              "nearest is "
              "0.2 mm too short\n"
              "spacers must fill the gap at the bottom cam within the play of 0.3 mm in at least one way: "
              "the nearest "
              "is 0.5 mm too long");
}

TEST(StudyChecks, ABoxForOneCamOnlyIsNotEnough) {
    Study s = study();
    s.spacers = {{1.5, 2}, {2.5, 3}};
    EXPECT_EQ(said(s, bow()),
              "spacers must fill the gaps at both cams at once: there are enough for one of them only");
}

TEST(StudyChecks, ABoxOfTooManyWaysIsRefused) {
    Study s = study();
    s.spacers = {{0.1, 100}, {0.2, 100}, {0.3, 100}, {0.4, 100}, {0.5, 100}};
    EXPECT_EQ(said(s, bow()),
              "spacers must leave fewer choices, but there are too many ways to stand spacers at a cam: "
              "leave out a "
              "thickness, or count fewer of the thin ones");
}

TEST(StudyChecks, AProductOfMoreThanAMilliardIsToldWithItsFactors) {
    Study s = study();
    s.ranges = {{"a", {0, 999, 1}}, {"b", {0, 999, 1}}};  // 12 · 81 · 1000 · 1000 = 9.72e8
    EXPECT_EQ(said(s, bow()), "");
    s.ranges.push_back({"c", {0, 1, 1}});
    EXPECT_EQ(said(s, bow()),
              "the study must ask for at most 1000000000 layouts, but asks for 12 pairings × 81 spacer "
              "layouts × 1000 "
              "× 1000 × 2 = 1.94e+09");
}

}  // namespace
}  // namespace limbwright::models::study_checks_test
