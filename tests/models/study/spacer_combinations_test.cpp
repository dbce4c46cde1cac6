#include "models/study/spacer_combinations.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "models/bow/spacers.hpp"
#include "models/study/rework_effort.hpp"

namespace limbwright::models::spacer_combinations_test {
namespace {

constexpr double rounding = 1e-6;  // allowance of the unit under test for lengths written in inches [mm]

/// 8 mm to fill at either cam.
Bow bow() {
    Bow bow;
    bow.gap = 28;
    bow.play = 0.3;
    bow.cam_top.hub = bow.cam_bottom.hub = 20;
    bow.layout.spacers_top = bow.layout.spacers_bottom = {{1.5, 2.5}, {1.5, 2.5}};
    return bow;
}

int count(const SpacerStacks& stacks, double thickness) {
    return static_cast<int>(std::ranges::count(stacks.left, thickness) +
                            std::ranges::count(stacks.right, thickness));
}

Layout with(const Bow& bow, const SpacerPair& pair) {
    Layout layout = bow.layout;
    layout.spacers_top = pair.top;
    layout.spacers_bottom = pair.bottom;
    return layout;
}

const std::vector<SpacerKind> box{{1.5, 4}, {2.5, 4}};
const std::vector<SpacerKind> rich_box{{0.5, 6}, {1, 5}, {1.5, 4}, {2.5, 3}};

TEST(SpacerBox, TwoOfEachThicknessStandNineWaysAtOneCam) {
    EXPECT_EQ(stacks_at(bow(), bow().cam_top, box).size(), 9u);  // 0, 1 or 2 of either thickness left
}

TEST(SpacerBox, NineWaysAtEitherCamMake81) {
    EXPECT_EQ(spacer_pairs(bow(), box).size(), 81u);
}

TEST(SpacerBox, StacksRunThinToThickAndMayBeEmpty) {
    bool empty_left = false, empty_right = false;
    for (const SpacerStacks& stacks : stacks_at(bow(), bow().cam_top, box)) {
        EXPECT_TRUE(std::ranges::is_sorted(stacks.left));
        EXPECT_TRUE(std::ranges::is_sorted(stacks.right));
        empty_left = empty_left || stacks.left.empty();
        empty_right = empty_right || stacks.right.empty();
    }
    EXPECT_TRUE(empty_left && empty_right);
}

TEST(SpacerBox, EveryStackFillsTheGapWithinThePlay) {
    for (const SpacerPair& pair : spacer_pairs(bow(), rich_box))
        for (const SpacerStacks* stacks : {&pair.top, &pair.bottom}) {
            EXPECT_GE(left_over(bow(), *stacks, bow().cam_top), -rounding);
            EXPECT_LE(left_over(bow(), *stacks, bow().cam_top), bow().play + rounding);
        }
}

TEST(SpacerBox, NoLayoutTakesMoreThanTheBoxHolds) {
    for (const SpacerPair& pair : spacer_pairs(bow(), rich_box))
        for (const SpacerKind& kind : rich_box)
            EXPECT_LE(count(pair.top, kind.thickness) + count(pair.bottom, kind.thickness), kind.count);
}

TEST(SpacerBox, TheBoxIsSharedByBothCams) {
    // Two of 4 mm and four of 2 mm: each cam takes 4+4, 4+2+2 or 2+2+2+2, and both together must leave the
    // box whole. With 4+4 | 2+2+2+2: offsets ±4, 0 and ±4, ±2, 0: 3 · 5, twice; with 4+2+2 at both: ±4, ±2, 0
    // each: 5 · 5 which holds all the others.
    const std::vector<SpacerPair> pairs = spacer_pairs(bow(), {{4, 2}, {2, 4}});
    EXPECT_EQ(pairs.size(), 25u);
    EXPECT_TRUE(spacer_pairs(bow(), {{4, 2}, {2, 1}}).empty());  // enough for one cam only
}

TEST(SpacerBox, NoTwoLayoutsHaveTheSameOffsetAtBothCams) {
    const std::vector<SpacerPair> pairs = spacer_pairs(bow(), rich_box);
    for (std::size_t i = 0; i < pairs.size(); ++i)
        for (std::size_t j = i + 1; j < pairs.size(); ++j)
            EXPECT_GT(std::abs(cam_offset(pairs[i].top) - cam_offset(pairs[j].top)) +
                          std::abs(cam_offset(pairs[i].bottom) - cam_offset(pairs[j].bottom)),
                      rounding);
}

TEST(SpacerBox, LayoutsComeByRisingOffsetTopBeforeBottom) {
    const std::vector<SpacerPair> pairs = spacer_pairs(bow(), box);
    EXPECT_DOUBLE_EQ(cam_offset(pairs.front().top), -4);
    EXPECT_DOUBLE_EQ(cam_offset(pairs.front().bottom), -4);
    EXPECT_DOUBLE_EQ(cam_offset(pairs[1].top), -4);
    EXPECT_DOUBLE_EQ(cam_offset(pairs[1].bottom), -2.5);
    EXPECT_DOUBLE_EQ(cam_offset(pairs.back().top), 4);
}

TEST(SpacerBox, OfLayoutsThatAreAlikeTheOneOfLeastReworkStands) {
    const Bow b = bow();
    const std::vector<SpacerKind> small{{1, 4}, {1.5, 4}, {2.5, 4}};
    const std::vector<SpacerStacks> ways = stacks_at(b, b.cam_top, small);
    for (const SpacerPair& kept : spacer_pairs(b, small)) {
        int least = std::numeric_limits<int>::max();
        for (const SpacerStacks& top : ways)
            for (const SpacerStacks& bottom : ways) {
                if (std::abs(cam_offset(top) - cam_offset(kept.top)) > rounding ||
                    std::abs(cam_offset(bottom) - cam_offset(kept.bottom)) > rounding)
                    continue;
                const bool in_the_box = std::ranges::all_of(small, [&](const SpacerKind& kind) {
                    return count(top, kind.thickness) + count(bottom, kind.thickness) <= kind.count;
                });
                if (in_the_box)
                    least = std::min(least, rework(settings_of(b), b.layout, with(b, {top, bottom})).parts);
            }
        EXPECT_EQ(rework(settings_of(b), b.layout, with(b, kept)).parts, least);
    }
}

TEST(SpacerBox, TodaysLayoutStandsForThoseLikeIt) {
    const Bow b = bow();
    const std::vector<SpacerPair> pairs = spacer_pairs(b, {{0.5, 8}, {1, 4}, {1.5, 4}, {2.5, 4}});
    const auto untouched = [&](const SpacerPair& pair) {
        return rework(settings_of(b), b.layout, with(b, pair)).work == Work::none;
    };
    EXPECT_EQ(std::ranges::count_if(pairs, untouched), 1);
}

TEST(SpacerBox, AlikeThicknessesAreCountedTogether) {
    EXPECT_EQ(spacer_pairs(bow(), {{1.5, 1}, {2.5, 4}, {1.5, 3}}).size(), 81u);
}

TEST(SpacerBox, InchesThatFillTheGapToTheLastDigitFit) {
    Bow b = bow();
    b.play = 0;
    b.gap = 20 + 3 * 0.1 * 25.4;
    EXPECT_EQ(stacks_at(b, b.cam_top, {{0.1 * 25.4, 3}}).size(), 4u);  // 0, 1, 2 or 3 left
}

TEST(SpacerBox, TellsByHowMuchTheNearestMisses) {
    const Bow b = bow();
    EXPECT_EQ(nearest_miss(b, b.cam_top, box), 0);
    EXPECT_NEAR(nearest_miss(b, b.cam_top, {{2.5, 4}}), 0.2, 1e-12);  // 7.5 of 7.7 … 8; sums of a few doubles
    EXPECT_NEAR(nearest_miss(b, b.cam_top, {{8.1, 1}}), -0.1, 1e-12);  // 8.1
    EXPECT_NEAR(nearest_miss(b, b.cam_top, {{1.5, 2}}), 4.7, 1e-12);   // all of the box: 3
    EXPECT_NEAR(nearest_miss(b, b.cam_top, {}), 7.7, 1e-12);
}

TEST(SpacerBox, ABoxOfTooManyWaysIsRefused) {
    std::vector<SpacerKind> many;
    for (int i = 1; i <= 9; ++i) many.push_back({0.1 * i, 100});
    EXPECT_THROW((void)stacks_at(bow(), bow().cam_top, many), std::length_error);
}

TEST(SpacerBox, ABoxThatIsSearchedInVainForTooLongIsRefused) {
    Bow b = bow();
    b.play = 0;
    b.gap = 28.05;  // no sum of tenths
    std::vector<SpacerKind> many;
    for (int i = 1; i <= 12; ++i) many.push_back({0.1 * i, 100});
    EXPECT_THROW((void)stacks_at(b, b.cam_top, many), std::length_error);
}

}  // namespace
}  // namespace limbwright::models::spacer_combinations_test
