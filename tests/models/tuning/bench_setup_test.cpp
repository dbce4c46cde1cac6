#include "models/tuning/bench_setup.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "tests/support/strung.hpp"

namespace limbwright::models::bench_setup_test {
namespace {

const TuneSolver& solver() {
    static const TuneSolver made(testing::small_uneven_bow(), 9);
    return made;
}
Tune today() {
    return solver().today().tune;
}
testing::Drawn solved(const Tune& tune, LengthRule rule = LengthRule::kept) {
    const auto answer = solver().solve(tune, rule);
    if (const auto* no = std::get_if<NotSolved>(&answer)) throw std::runtime_error(no->reason);
    const SolvedTune& s = std::get<SolvedTune>(answer);
    return {s.strung, s.draw};
}
/// NaN is the same as NaN.
bool same(double a, double b) {
    return a == b || (std::isnan(a) && std::isnan(b));
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

TEST(TuneSolver, AMovedRestChangesWhatIsToldAgainstTheArrowAndNothingElse) {
    Tune tune = today();
    tune.rest_lateral = 2;
    tune.rest_height = 1;
    const testing::Drawn moved = solved(tune), as_before = solved(today());
    EXPECT_GT(moved.full("arrow line, lateral"), as_before.full("arrow line, lateral") + 0.1);
    EXPECT_GT(moved.full("arrow line, vertical"), as_before.full("arrow line, vertical") + 0.05);
    // No force goes through the rest: all else is the same to the last bit, in every state.
    std::set<std::string> changed;
    for (const Measure& m : state_measures(moved.bow()))
        for (std::size_t i = 0; i < moved.draw.states.size(); ++i)
            if (!same(moved.at(i, m.name), as_before.at(i, m.name))) changed.insert(m.name);
    for (const Measure& m : draw_measures())
        if (!same(m.value({moved.bow(), moved.draw}), m.value({as_before.bow(), as_before.draw})))
            changed.insert(m.name);
    EXPECT_EQ(changed, (std::set<std::string>{"arrow line, lateral", "arrow line, vertical", "clearance",
                                              "forgiveness, arrow yaw", "path slope at brace, lateral",
                                              "path slope at brace, vertical"}));
}

TEST(TuneSolver, AMovedNockingPointGoesUpAsFarAsItIsMoved) {
    Tune tune = today();
    tune.nocking_point = 3;
    const double before = as_today().whole("nocking-point height", "mm");
    EXPECT_NEAR(solved(tune, LengthRule::re_timed).whole("nocking-point height", "mm"), before + 3, 1e-6);
    // The bow pitches a little when the string pulls elsewhere.
    const testing::Drawn kept = solved(tune);
    EXPECT_NEAR(kept.whole("nocking-point height", "mm"), before + 3, 0.3);
    EXPECT_NEAR(kept.whole("axle-to-axle", "mm"), as_today().whole("axle-to-axle", "mm"), 0.05);
}

TEST(TuneSolver, KeepsLengthsOrMeetsWhatWasMeasuredAtBrace) {
    Tune tune = today();
    tune.layout.bolt_top = 3;
    const double before = as_today().whole("axle-to-axle", "mm");
    EXPECT_NEAR(solved(tune, LengthRule::re_timed).whole("axle-to-axle", "mm"), before, 1e-6);
    EXPECT_LT(solved(tune, LengthRule::kept).whole("axle-to-axle", "mm"), before - 0.01);
}

TEST(TuneSolver, SaysWhyATuneCannotBe) {
    Tune tune = today();
    tune.layout.twist_string = -4000;  // 0.8 m longer either way
    const auto answer = solver().solve(tune, LengthRule::kept);
    ASSERT_TRUE(std::holds_alternative<NotSolved>(answer));
    EXPECT_GT(std::get<NotSolved>(answer).reason.size(), 20u);
}

}  // namespace
}  // namespace limbwright::models::bench_setup_test
