#include "models/tuning/layouts_at_hand.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "models/bow/spacers.hpp"
#include "models/states/measures.hpp"
#include "models/study/rework_effort.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::models::layouts_at_hand_test {
namespace {

const TuneSolver& solver() {
    static const TuneSolver made(testing::crossed_bow(), 5);
    return made;
}
const std::vector<LayoutAtHand>& at_hand() {
    static const std::vector<LayoutAtHand> made = layouts_at_hand(solver(), 2);
    return made;
}

double lean(const LayoutAtHand& layout) {
    const auto& solved = std::get<SolvedTune>(layout.answer);
    const std::vector<Measure> all = state_measures(solved.strung.bow);
    return values({*find(all, "lean_top")}, solved.strung.bow, solved.draw).front().back();
}

TEST(LayoutsAtHand, AreTheOtherPairingsAndSmallShifts) {
    // 12 pairings of 51, 49, 50, 50 less today's, each cam and both and the guide to either side.
    ASSERT_EQ(at_hand().size(), 11u + 8u);
    const Layout& today = solver().today().tune.layout;
    for (const LayoutAtHand& layout : at_hand()) {
        EXPECT_NE(rework(today, layout.layout).kind, ReworkKind::none);
        const bool guide = layout.layout.guide_lateral != today.guide_lateral;
        EXPECT_EQ(layout.lengths, guide ? LengthRule::kept : LengthRule::re_timed);
    }
}

TEST(LayoutsAtHand, ACamFartherLeftLeansFartherLeftAtFullDraw) {
    const Layout& today = solver().today().tune.layout;
    const auto with_cams = [&](double top, double bottom) {
        return std::ranges::find_if(at_hand(), [&](const LayoutAtHand& layout) {
            const auto moved = [](const SpacerStacks& to, const SpacerStacks& from, double by) {
                return std::abs(cam_offset(to) - cam_offset(from) - by) < 1e-9;
            };
            return layout.layout.pairing == today.pairing && layout.lengths == LengthRule::re_timed &&
                   moved(layout.layout.spacers_top, today.spacers_top, top) &&
                   moved(layout.layout.spacers_bottom, today.spacers_bottom, bottom);
        });
    };
    ASSERT_NE(with_cams(1, 0), at_hand().end());
    ASSERT_NE(with_cams(-1, 0), at_hand().end());
    EXPECT_NE(with_cams(1, 1), at_hand().end());
    EXPECT_NE(with_cams(0, -1), at_hand().end());
    EXPECT_GT(lean(*with_cams(1, 0)), lean(*with_cams(-1, 0)));
}

TEST(LayoutsAtHand, NothingDependsOnTheNumberOfThreads) {
    const std::vector<LayoutAtHand> alone = layouts_at_hand(solver(), 1);
    ASSERT_EQ(alone.size(), at_hand().size());
    for (std::size_t i = 0; i < alone.size(); ++i) EXPECT_EQ(lean(alone[i]), lean(at_hand()[i]));
}

}  // namespace
}  // namespace limbwright::models::layouts_at_hand_test
