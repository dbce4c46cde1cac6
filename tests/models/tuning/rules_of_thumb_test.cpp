#include "models/tuning/rules_of_thumb.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/strung.hpp"

namespace limbwright::models::rules_of_thumb_test {
namespace {

Tear tear(const char* tail, Hand hand = Hand::right) {
    Tear t = *tear_of(tail, 22);
    t.hand = hand;
    return t;
}
const TuneSolver& crossed() {
    static const TuneSolver made(testing::demo_bow("crossed"));
    return made;
}

TEST(Practice, OfCamsAndLimbsIsTheModelsOnTheCrossedDemoBow) {
    const std::vector<Practice> all = check_practice(crossed(), tear("left"));
    ASSERT_EQ(all.size(), 3u);
    EXPECT_EQ(all[0].statement, "a tail-left tear is answered by both cams farther left");
    EXPECT_EQ(all[0].verdict, PracticeVerdict::agrees) << all[0].why;
    EXPECT_EQ(all[1].statement,
              "a tail-left tear is answered by the stiffer limbs on the right, top and bottom");
    EXPECT_EQ(all[1].verdict, PracticeVerdict::agrees) << all[1].why;
    EXPECT_EQ(all[2].statement, "a tail-left tear is answered by the guide further out");
}

/// The cables' side pull hardly reaches the string: a millimetre of the guide does less than a tenth of what
/// a millimetre of the cams does.
TEST(Practice, OfTheGuideIsNotTheModelsOnTheCrossedDemoBow) {
    const std::vector<Practice> all = check_practice(crossed(), tear("left"));
    EXPECT_NE(all[2].verdict, PracticeVerdict::agrees) << all[2].why;
    EXPECT_LT(std::abs(all[2].turn), 0.1 * std::abs(all[0].turn));
}

TEST(Practice, IsTheOppositeForATailRightTear) {
    const std::vector<Practice> left = check_practice(crossed(), tear("left")),
                                right = check_practice(crossed(), tear("right"));
    EXPECT_EQ(right[0].tried, "both cams 1 mm right");
    EXPECT_EQ(right[1].tried, "limbs one number stiffer left, one softer right");
    EXPECT_EQ(right[2].statement, "a tail-right tear is answered by the guide further in");
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_LT(left[i].turn * right[i].turn, 0);
        // Small changes: their effects are linear to a tenth.
        EXPECT_NEAR(left[i].turn, -right[i].turn, 0.1 * std::abs(left[i].turn) + 1e-3);
    }
}

TEST(Practice, OfALeftHanderIsTheMirrorImage) {
    const Bow bow = testing::small_uneven_bow();
    const TuneSolver right(bow, 9), left(mirrored(bow), 9);
    const std::vector<Practice> ours = check_practice(right, tear("left")),
                                theirs = check_practice(left, tear("right", Hand::left));
    ASSERT_EQ(ours.size(), theirs.size());
    EXPECT_EQ(theirs[2].statement, "a tail-right tear is answered by the guide further out");
    for (std::size_t i = 0; i < ours.size(); ++i) {
        EXPECT_NEAR(ours[i].turn, -theirs[i].turn, 1e-6);
        EXPECT_NEAR(ours[i].slope, -theirs[i].slope, 1e-6);
        EXPECT_EQ(ours[i].verdict, theirs[i].verdict);
    }
}

TEST(Practice, HasNothingToSayOfATearThatGoesUp) {
    EXPECT_TRUE(check_practice(crossed(), tear("high")).empty());
}

TEST(Practice, SaysWhichMeasureMovedByHowMuch) {
    const Practice first = check_practice(crossed(), tear("left")).front();
    EXPECT_TRUE(first.why.starts_with("tail turn goes 0.")) << first.why;
    EXPECT_NE(first.why.find("deg against the tear"), std::string::npos) << first.why;
}

}  // namespace
}  // namespace limbwright::models::rules_of_thumb_test
