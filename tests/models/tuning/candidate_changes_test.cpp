#include "models/tuning/candidate_changes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/strung.hpp"

namespace limbwright::models::candidate_changes_test {
namespace {

const TuneSolver& crossed() {
    static const TuneSolver made(testing::demo_bow("crossed"));
    return made;
}
const EffectsTable& re_timed() {
    static const EffectsTable table =
        effects_table(crossed().today().strung, crossed().today().draw, LengthRule::re_timed,
                      settings_of(crossed().today().strung.bow.bow, 1.5));
    return table;
}
Move named(const std::vector<Move>& moves, const std::string& text) {
    const auto found = std::ranges::find(moves, text, &Move::text);
    if (found == moves.end()) throw std::runtime_error("no move is called " + text);
    return *found;
}
/// What a move does when solved.
Vec2 turn_by(const Move& move, LengthRule rule) {
    Layout tune = crossed().today().layout;
    move.apply(tune);
    return tail_turn(std::get<SolvedTune>(crossed().solve(tune, rule))) - tail_turn(crossed().today());
}

Knob made_up(double least, double most) {
    static const std::vector<Setting> all = settings_of(testing::small_bow());
    return {*find(all, "guide_lateral"), {}, {-0.1, 0.02}, least, most};
}
double amount(const Knob& knob, const Vec2& wanted, const Vec2& directions) {
    Layout tune;
    const Move move = knob.nearest_to(wanted, directions);
    if (move.apply) move.apply(tune);
    return tune.guide_lateral;
}

TEST(Knob, TurnsAsFarAsIsWantedInWholeSteps) {
    EXPECT_EQ(amount(made_up(-5, 5), {-0.32, 0}, {1, 0}), 3);
    EXPECT_EQ(amount(made_up(-5, 5), {0.18, 0}, {1, 0}), -2);
    EXPECT_EQ(amount(made_up(-5, 5), {0, 0.06}, {0, 1}), 3);
}

TEST(Knob, StaysWithinItsRange) {
    EXPECT_EQ(amount(made_up(-5, 5), {-3, 0}, {1, 0}), 5);
    EXPECT_EQ(amount(made_up(0, 2), {3, 0}, {1, 0}), 0);
}

TEST(Knob, IsNoMoveWhereItDoesNothing) {
    EXPECT_TRUE(made_up(-5, 5).nearest_to({-0.01, 0}, {1, 0}).text.empty());
    EXPECT_TRUE(made_up(-5, 5).nearest_to({-3, 0}, {0, 0}).text.empty());
}

/// First order against the solved bow: within a tenth for such small moves.
TEST(Moves, DoWhatIsPredicted) {
    for (const Knob& knob : knobs(crossed().today(), {.bolts = true})) {
        const Move move =
            knob.nearest_to(1e-9 * knob.slope + knob.slope * knob.setting.reach.notch * 2, {1, 1});
        ASSERT_FALSE(move.text.empty()) << knob.name();
        EXPECT_LT((turn_by(move, LengthRule::kept) - move.turn).norm(), 0.1 * move.turn.norm() + 1e-3)
            << move.text;
    }
    const Move cam = named(spacer_moves(crossed().today(), re_timed(), {}), "top cam 1 mm left");
    EXPECT_LT((turn_by(cam, LengthRule::re_timed) - cam.turn).norm(), 0.1 * cam.turn.norm());
    const Move limbs =
        named(limb_moves(crossed().today(), re_timed(), {}), "limb 49 top left, limb 51 top right");
    EXPECT_LT((turn_by(limbs, LengthRule::re_timed) - limbs.turn).norm(), 0.1 * limbs.turn.norm());
}

TEST(Moves, OfARestAreExact) {
    const std::vector<Knob> all = knobs(crossed().today(), {});
    const Move move = all[0].nearest_to({-0.2, 0}, {1, 0});
    EXPECT_EQ(move.text, "arrow rest 1 mm left");
    EXPECT_NEAR(turn_by(move, LengthRule::kept).x(), move.turn.x(), 1e-3);
}

TEST(Moves, OfBoltsAreThereOnlyIfAskedForAndNeverBelowTheSeat) {
    const auto bolts = [](const std::vector<Knob>& all) {
        return std::ranges::count_if(all, [](const Knob& k) { return k.setting.work == Work::bolts; });
    };
    EXPECT_EQ(bolts(knobs(crossed().today(), {})), 0);
    const std::vector<Knob> with = knobs(crossed().today(), {.bolts = true});
    EXPECT_EQ(bolts(with), 2);
    for (const Knob& knob : with)
        if (knob.setting.work == Work::bolts) {
            EXPECT_EQ(knob.least, 0);
        }
}

TEST(Moves, OfSpacersUseWhatStandsInTheBowAndSpareOnes) {
    // 1.5 mm and 2.5 mm, four of each, fill both gaps in 81 ways, today's among them.
    EXPECT_EQ(spacer_moves(crossed().today(), re_timed(), {}).size(), 80u);
    const CureOptions spare{.spacers = {{0.5, 2}, {1.0, 2}}};
    EXPECT_GT(spacer_moves(crossed().today(), re_timed(), spare).size(), 80u);
}

TEST(Moves, OfLimbsAreEveryOtherPairing) {
    // 51, 49 and two alike: twelve pairings, today's among them.
    const std::vector<Move> moves = limb_moves(crossed().today(), re_timed(), {});
    EXPECT_EQ(moves.size(), 11u);
    EXPECT_EQ(named(moves, "limb 49 top left, limb 51 top right").parts, 2);
    EXPECT_GT(limb_moves(crossed().today(), re_timed(), {.limbs = {52}}).size(), 11u);
}

TEST(Moves, OfYokesTurnOneLegAgainstTheOther) {
    const TuneSolver yoked(testing::demo_bow("yoked"), 9);
    std::vector<std::string> names;
    for (const Knob& knob : knobs(yoked.today(), {}))
        if (knob.setting.work == Work::yokes) names.push_back(knob.text(1));
    EXPECT_EQ(names,
              (std::vector<std::string>{
                  "left leg of the bottom yoke 1 turn shorter, right leg of the bottom yoke 1 turn longer",
                  "left leg of the top yoke 1 turn shorter, right leg of the top yoke 1 turn longer"}));
}

}  // namespace
}  // namespace limbwright::models::candidate_changes_test
