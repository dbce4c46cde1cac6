#include "models/tuning/bench_setup.hpp"

#include <gtest/gtest.h>

#include "tests/support/strung.hpp"

namespace limbwright::models::bench_setup_test {
namespace {

const TuneSolver& solver() {
    static const TuneSolver made(testing::small_uneven_bow(), 9);
    return made;
}
Layout today() {
    return solver().today().layout;
}
testing::Drawn solved(const Layout& tune, LengthRule rule = LengthRule::kept) {
    const auto answer = solver().solve(tune, rule);
    if (const auto* no = std::get_if<NotSolved>(&answer)) throw std::runtime_error(no->reason);
    const SolvedTune& s = std::get<SolvedTune>(answer);
    return {s.strung, s.draw};
}
testing::Drawn as_today() {
    return {solver().today().strung, solver().today().draw};
}

TEST(TuneSolver, GivesTodaysStatesForTodaysTune) {
    for (const LengthRule rule : {LengthRule::kept, LengthRule::re_timed}) {
        const testing::Drawn again = solved(today(), rule);
        EXPECT_NEAR(again.full("draw force"), as_today().full("draw force"), 1e-6);
        EXPECT_NEAR(again.full("cam lean, top"), as_today().full("cam lean, top"), 1e-6);
    }
}

TEST(TuneSolver, AMovedRestChangesTheArrowsLineAndNothingElse) {
    Layout tune = today();
    tune.moved = {{"rest_lateral", 2}, {"rest_height", 1}};
    const testing::Drawn moved = solved(tune);
    EXPECT_NEAR(moved.full("nock travel, lateral"), as_today().full("nock travel, lateral"), 1e-6);
    EXPECT_GT(moved.full("arrow line, lateral"), as_today().full("arrow line, lateral") + 0.1);
    EXPECT_GT(moved.full("arrow line, vertical"), as_today().full("arrow line, vertical") + 0.05);
}

TEST(TuneSolver, AMovedNockingPointGoesUpAsFarAsItIsMoved) {
    Layout tune = today();
    tune.nocking_point = 3;
    const double before = as_today().whole("nocking-point height", "mm");
    EXPECT_NEAR(solved(tune, LengthRule::re_timed).whole("nocking-point height", "mm"), before + 3, 1e-6);
    // The bow pitches a little when the string pulls elsewhere.
    const testing::Drawn kept = solved(tune);
    EXPECT_NEAR(kept.whole("nocking-point height", "mm"), before + 3, 0.3);
    EXPECT_NEAR(kept.whole("axle-to-axle", "mm"), as_today().whole("axle-to-axle", "mm"), 0.05);
}

TEST(TuneSolver, ANockingPointCountsFromTheBowFilesOnEveryDay) {
    Layout up = today();
    up.nocking_point = 3;
    const TuneSolver later(with_layout(solver().today().strung.bow.bow, up));
    const auto back = later.solve(today(), LengthRule::kept);
    const SolvedTune& there = std::get<SolvedTune>(back);
    const testing::Drawn again{there.strung, there.draw};
    EXPECT_NEAR(again.whole("nocking-point height", "mm"), as_today().whole("nocking-point height", "mm"),
                0.3);
    const testing::Drawn moved{later.today().strung, later.today().draw};
    EXPECT_NEAR(moved.whole("nocking-point height", "mm"),
                solved(up, LengthRule::re_timed).whole("nocking-point height", "mm"), 1e-6);
}

TEST(TuneSolver, KeepsLengthsOrMeetsWhatWasMeasuredAtBrace) {
    Layout tune = today();
    tune.bolt_top = 3;
    const double before = as_today().whole("axle-to-axle", "mm");
    EXPECT_NEAR(solved(tune, LengthRule::re_timed).whole("axle-to-axle", "mm"), before, 1e-6);
    EXPECT_LT(solved(tune, LengthRule::kept).whole("axle-to-axle", "mm"), before - 0.01);
}

TEST(TuneSolver, SaysWhyATuneCannotBe) {
    Layout tune = today();
    tune.twist_string = -4000;  // 0.8 m longer either way
    const auto answer = solver().solve(tune, LengthRule::kept);
    ASSERT_TRUE(std::holds_alternative<NotSolved>(answer));
    EXPECT_GT(std::get<NotSolved>(answer).reason.size(), 20u);
}

}  // namespace
}  // namespace limbwright::models::bench_setup_test
