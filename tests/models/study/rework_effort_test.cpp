#include "models/study/rework_effort.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::rework_effort_test {
namespace {

Layout today() {
    Layout layout;
    layout.pairing = {51, 49, 50, 50};
    layout.spacers_top = layout.spacers_bottom = {{1.5, 2.5}, {1.5, 2.5}};
    return layout;
}

Rework rework(const Layout& from, const Layout& to, LimbKind kind = LimbKind::split) {
    Bow bow = testing::small_bow();
    bow.limb.kind = kind;
    bow.cables.system = CableSystem::yoked;
    return models::rework(settings_of(bow), from, to);
}

TEST(Rework, TodaysLayoutNeedsNone) {
    EXPECT_EQ(rework(today(), today()), (Rework{Work::none, 0}));
}

TEST(Rework, TheOrderOfSpacersInAStackDoesNotMatter) {
    Layout to = today();
    to.spacers_top.left = {2.5, 1.5};
    EXPECT_EQ(rework(today(), to), (Rework{Work::none, 0}));
}

TEST(Rework, RoundingOfStepsIsNoChange) {
    Layout to = today();
    to.guide_lateral = 0.3 - 3 * 0.1;
    EXPECT_EQ(rework(today(), to).work, Work::none);
}

TEST(Rework, TheHandsTorquesAreNoRework) {
    Layout to = today();
    to.hand_yaw_torque = 500;
    EXPECT_EQ(rework(today(), to).work, Work::none);
}

TEST(Rework, GuideAndBoltsNeedKeysAndCountOnceEach) {
    Layout to = today();
    to.guide_lateral = 1;
    to.guide_angle = 0.01;
    to.bolt_top = 0.5;
    EXPECT_EQ(rework(today(), to), (Rework{Work::bolts, 3}));
}

TEST(Rework, TwistsNeedAPress) {
    Layout to = today();
    to.twist_cables[1] = 2;
    to.twist_yoke_left[0] = -1;
    EXPECT_EQ(rework(today(), to), (Rework{Work::yokes, 2}));
}

TEST(Rework, ASpacerThatGoesFromLeftToRightIsOnePart) {
    Layout to = today();
    to.spacers_top = {{1.5}, {1.5, 2.5, 2.5}};
    EXPECT_EQ(rework(today(), to), (Rework{Work::spacers, 1}));
}

TEST(Rework, SpacersThatChangeBetweenTheCamsAreOnePartEach) {
    Layout to = today();
    to.spacers_top = {{1.5, 1.5}, {1.5, 2.5}};
    to.spacers_bottom = {{2.5, 2.5}, {1.5, 2.5}};
    EXPECT_EQ(rework(today(), to), (Rework{Work::spacers, 2}));
}

TEST(Rework, SpacersFromTheBoxAndBackIntoItCount) {
    Layout to = today();
    to.spacers_top = {{4}, {1.5, 2.5}};  // 1.5 and 2.5 go out, 4 comes in
    EXPECT_EQ(rework(today(), to), (Rework{Work::spacers, 3}));
}

TEST(Rework, TwoLimbsThatChangePlacesAreTwoParts) {
    Layout to = today();
    to.pairing = {49, 51, 50, 50};
    EXPECT_EQ(rework(today(), to), (Rework{Work::limbs, 2}));
}

TEST(Rework, ALimbOutOfStockIsOneThatComesInAndOneThatGoesOut) {
    Layout to = today();
    to.pairing.top_right = 48;
    EXPECT_EQ(rework(today(), to), (Rework{Work::limbs, 2}));
}

TEST(Rework, SolidLimbsThatChangePlacesAreTwoParts) {
    Layout from, to;
    from.pairing = {51, 51, 49, 49};
    to.pairing = {49, 49, 51, 51};
    EXPECT_EQ(rework(from, to, LimbKind::solid), (Rework{Work::limbs, 2}));
}

TEST(Rework, TheMostWorkGivesTheKindAndAllPartsAreCounted) {
    Layout to = today();
    to.pairing = {49, 51, 50, 50};
    to.spacers_top = {{1.5}, {1.5, 2.5, 2.5}};
    to.guide_lateral = -2;
    EXPECT_EQ(rework(today(), to), (Rework{Work::limbs, 4}));
}

TEST(Rework, LessWorkComesFirstInOrder) {
    EXPECT_LT((Rework{Work::bolts, 4}), (Rework{Work::spacers, 1}));
    EXPECT_LT((Rework{Work::limbs, 2}), (Rework{Work::limbs, 3}));
}

TEST(Rework, IsToldInAFewWords) {
    EXPECT_EQ(to_text({Work::none, 0}), "none");
    EXPECT_EQ(to_text({Work::bolts, 1}), "keys, 1 part");
    EXPECT_EQ(to_text({Work::yokes, 2}), "twists, 2 parts");
    EXPECT_EQ(to_text({Work::spacers, 4}), "spacers, 4 parts");
    EXPECT_EQ(to_text({Work::limbs, 6}), "limbs, 6 parts");
}

}  // namespace
}  // namespace limbwright::models::rework_effort_test
