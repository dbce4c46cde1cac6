#include "models/bow/spacers.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace limbwright::models::spacers_test {
namespace {

Bow split_limb_bow() {
    Bow bow;
    bow.limb.lateral = 25;
    bow.limb.stations = {{.at = 0, .width = 30}, {.at = 1, .width = 18}};
    bow.cam_top.hub = 26;
    return bow;
}

TEST(Spacers, ATallerRightStackPushesTheCamLeft) {
    EXPECT_DOUBLE_EQ(cam_offset({.left = {1}, .right = {2, 2}}), 1.5);
    EXPECT_DOUBLE_EQ(cam_offset({.left = {2, 2}, .right = {1}}), -1.5);
    EXPECT_DOUBLE_EQ(cam_offset({.left = {}, .right = {}}), 0);
}

TEST(Spacers, TheGapOfSplitLimbsIsTheirDistanceLessATipsWidth) {
    EXPECT_DOUBLE_EQ(tip_gap(split_limb_bow()), 32);
}

TEST(Spacers, TheGapOfASolidLimbIsBetweenItsProngs) {
    Bow bow = split_limb_bow();
    bow.limb.kind = LimbKind::solid;
    bow.limb.prong_width = 12;
    EXPECT_DOUBLE_EQ(tip_gap(bow), 38);
}

TEST(Spacers, AGivenGapStands) {
    Bow bow = split_limb_bow();
    bow.gap = 33;
    EXPECT_DOUBLE_EQ(tip_gap(bow), 33);
}

TEST(Spacers, SplitLimbsWithoutStationsHaveNoGap) {
    EXPECT_TRUE(std::isnan(tip_gap(Bow{})));
}

TEST(Spacers, WhatIsLeftOverIsGapLessHubLessBothStacks) {
    const Bow bow = split_limb_bow();
    EXPECT_DOUBLE_EQ(left_over(bow, {.left = {1, 2}, .right = {2.5}}, bow.cam_top), 0.5);
    EXPECT_DOUBLE_EQ(total({.left = {1, 2}, .right = {2.5}}), 5.5);
}

}  // namespace
}  // namespace limbwright::models::spacers_test
