#include "models/tuning/cure_search.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "models/bow/spacers.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::cure_search_test {
namespace {

Tear tear(const char* tail, double size = 25) {
    return *tear_of(tail, size);
}
const TuneSolver& crossed() {
    static const TuneSolver made(testing::demo_bow("crossed"));
    return made;
}
const Cures& left_tear() {
    static const Cures made = find_cures(crossed(), tear("left"));
    return made;
}
double after(const Cure& cure, const std::string& name) {
    return std::ranges::find(cure.measures, name, &CureMeasure::name)->after;
}

TEST(Wanted, IsToBringTheTailTurnToZeroWhereTheModelTearsToTheSameSide) {
    const Wanted wanted = wanted_of(crossed().today(), tear("left"));
    EXPECT_TRUE(wanted.seen);
    EXPECT_EQ(wanted.change.x(), -wanted.turn.x());
    EXPECT_EQ(wanted.change.y(), 0);
    EXPECT_EQ(wanted.directions, Vec2(1, 0));
}

/// asin(25 / 711.2).
TEST(Wanted, IsTheTearsOwnAngleWhereStaticsDoNotExplainIt) {
    const Wanted wanted = wanted_of(crossed().today(), tear("right"));
    EXPECT_FALSE(wanted.seen);
    EXPECT_NEAR(wanted.change.x(), 2.0145, 1e-4);
}

TEST(Wanted, OfASlantedTearGoesBothWays) {
    const Wanted wanted = wanted_of(crossed().today(), tear("low left"));
    EXPECT_EQ(wanted.directions, Vec2(1, 1));
    EXPECT_LT(wanted.change.x(), 0);
    EXPECT_GT(wanted.change.y(), 0);
}

TEST(Cures, OfTheCrossedDemoBowsTearComeByRisingWork) {
    const std::vector<Cure>& ranked = left_tear().ranked;
    ASSERT_GE(ranked.size(), 4u);
    EXPECT_EQ(ranked.front().kinds, (std::vector{Work::rest}));
    EXPECT_EQ(ranked.back().kinds.back(), Work::limbs);
    for (std::size_t i = 1; i < ranked.size(); ++i)
        EXPECT_LE(ranked[i - 1].kinds.back(), ranked[i].kinds.back());
}

/// As its story goes, the stiffer limb is the one that was replaced.
TEST(Cures, OfTheCrossedDemoBowPutItsStifferLimbToTheRightAndItsCamsToTheLeft) {
    bool limbs = false, cams = false;
    for (const Cure& cure : left_tear().ranked) {
        const Layout& l = cure.layout;
        if (cure.kinds.back() == Work::limbs) {
            limbs = true;
            EXPECT_EQ(l.pairing.top_right, 51) << cure.text;
        }
        if (cure.kinds.back() == Work::spacers) {
            cams = true;
            EXPECT_GE(cam_offset(l.spacers_top) + cam_offset(l.spacers_bottom), 1) << cure.text;
        }
    }
    EXPECT_TRUE(limbs && cams);
}

TEST(Cures, DoWhatTheySay) {
    for (const Cure& cure : left_tear().ranked) {
        EXPECT_GT(cure.answered, 0.02) << cure.text;
        EXPECT_LE(cure.answered, 1) << cure.text;
        const double turn = after(cure, "tail turn, lateral"), today = left_tear().wanted.turn.x();
        EXPECT_NEAR(cure.answered, 1 - std::abs(turn / today), 1e-9) << cure.text;
    }
}

TEST(Cures, KeepLengthsButWithSpacersAndLimbs) {
    for (const Cure& cure : left_tear().ranked)
        EXPECT_EQ(cure.lengths == LengthRule::re_timed, cure.kinds.back() >= Work::spacers) << cure.text;
}

TEST(Cures, CountTheRestAsWorkForAKey) {
    const Cure& rest = left_tear().ranked.front();
    EXPECT_EQ(rest.rework.tools(), 1);
    EXPECT_EQ(rest.rework.parts, 1);
}

TEST(Cures, NeverBringCablesIntoTheVanes) {
    const Cures right = find_cures(crossed(), tear("right"));
    bool left_out = false;
    for (const std::string& note : right.notes)
        left_out = left_out || note.find("into the vanes") != std::string::npos;
    EXPECT_TRUE(left_out);
    for (const Cure& cure : right.ranked) EXPECT_GE(after(cure, "clearance, smallest"), 0) << cure.text;
}

TEST(Cures, ArePairedWhereNoSingleOneSuffices) {
    const Cures low = find_cures(crossed(), tear("low"));
    const auto pair = std::ranges::find(low.ranked, 2u, [](const Cure& c) { return c.kinds.size(); });
    ASSERT_NE(pair, low.ranked.end());
    for (const Cure& cure : low.ranked)
        if (cure.kinds.size() == 1 && cure.kinds[0] <= pair->kinds.back()) {
            EXPECT_GT(pair->answered, cure.answered) << cure.text;
        }
    EXPECT_EQ(low.ranked.front().text, "arrow rest 2 mm down");
}

TEST(Cures, OfASlantedTearMoveTheRestBothWays) {
    const Cures slanted = find_cures(crossed(), tear("low left"));
    const auto pair =
        std::ranges::find(slanted.ranked, "arrow rest 2 mm left; arrow rest 2 mm down", &Cure::text);
    ASSERT_NE(pair, slanted.ranked.end());
    EXPECT_EQ(pair->rework.parts, 1);
    for (const Cure& cure : slanted.ranked)
        if (cure.kinds.size() == 1 && cure.kinds[0] == Work::rest) {
            EXPECT_GT(pair->answered, cure.answered);
        }
}

TEST(Cures, OfALeftHandersBowAreTheMirrorImages) {
    const Cures mirror = find_cures(TuneSolver(testing::demo_bow("crossed_left")), tear("right"));
    ASSERT_EQ(mirror.ranked.size(), left_tear().ranked.size());
    for (std::size_t i = 0; i < mirror.ranked.size(); ++i)
        EXPECT_NEAR(mirror.ranked[i].answered, left_tear().ranked[i].answered, 1e-3) << mirror.ranked[i].text;
}

TEST(Cures, TakeSpareLimbsIntoAccount) {
    const Cures with = find_cures(crossed(), tear("left"), {.limbs = {52, 48}});
    double best = 0, before = 0;
    const auto limbs_only = [](const Cure& c) { return c.kinds == std::vector{Work::limbs}; };
    for (const Cure& c : with.ranked)
        if (limbs_only(c)) best = std::max(best, c.answered);
    for (const Cure& c : left_tear().ranked)
        if (limbs_only(c)) before = std::max(before, c.answered);
    EXPECT_GT(best, before + 0.1);
}

}  // namespace
}  // namespace limbwright::models::cure_search_test
