#include "models/tuning/before_after.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "tests/support/strung.hpp"

namespace limbwright::models::before_after_test {
namespace {

const TuneSolver& solver() {
    static const TuneSolver made(testing::small_uneven_bow(), 9);
    return made;
}
SolvedTune solved(const Tune& tune) {
    return std::get<SolvedTune>(solver().solve(tune, LengthRule::kept));
}
CureMeasure measure(const std::vector<CureMeasure>& all, const std::string& name) {
    return *std::ranges::find(all, name, [](const CureMeasure& m) { return in_words(m.of); });
}

CureMeasure made_up(Worse when, double before, double after) {
    CureMeasure m;
    m.of = {{"made_up", "made up", "mm", "", 2, {}}, DrawPlace::whole};
    m.worse_when = when;
    m.before = before;
    m.after = after;
    m.threshold = 0.5;
    return m;
}

TEST(CureMeasure, GetsWorseByMoreThanItsThresholdOnly) {
    EXPECT_TRUE(made_up(Worse::larger, 1, -1.6).worse());
    EXPECT_FALSE(made_up(Worse::larger, 1, -1.4).worse());
    EXPECT_FALSE(made_up(Worse::larger, -3, 0).worse());
    EXPECT_TRUE(made_up(Worse::higher, -3, -2).worse());
    EXPECT_FALSE(made_up(Worse::higher, 3, 2).worse());
    EXPECT_TRUE(made_up(Worse::lower, 3, 2).worse());
    EXPECT_FALSE(made_up(Worse::lower, 3, 2.6).worse());
    EXPECT_TRUE(made_up(Worse::other, 3, 2).worse());
    EXPECT_TRUE(made_up(Worse::other, 2, 3).worse());
    EXPECT_FALSE(made_up(Worse::never, 2, 300).worse());
    EXPECT_EQ(to_text(made_up(Worse::never, 1, -2.555)), "made up: 1.00 to -2.56 mm");
}

TEST(CureMeasures, OfABowAgainstItselfDoNotChange) {
    const std::vector<CureMeasure> all = compare(solver().today(), solver().today());
    std::set<std::string> names;
    for (const CureMeasure& m : all) {
        EXPECT_TRUE(names.insert(in_words(m.of)).second) << in_words(m.of);
        EXPECT_EQ(m.before, m.after) << in_words(m.of);
        EXPECT_TRUE(std::isfinite(m.before)) << in_words(m.of);
        EXPECT_FALSE(m.worse() || m.of.measure.unit.empty() || m.of.measure.definition.empty())
            << in_words(m.of);
    }
    for (const char* name : {"tail turn, lateral", "cam lean, top, at full draw", "forgiveness, arrow yaw",
                             "clearance, smallest", "guide side force, at full draw", "peak weight"})
        EXPECT_TRUE(names.contains(name)) << name;
}

TEST(CureMeasures, AreReadOffBothDraws) {
    Tune tune = solver().today().tune;
    tune.layout.guide_lateral = 3;
    const SolvedTune moved = solved(tune);
    const std::vector<CureMeasure> all = compare(solver().today(), moved);
    const testing::Drawn before{solver().today().strung, solver().today().draw},
        after{moved.strung, moved.draw};
    const CureMeasure lean = measure(all, "cam lean, top, at full draw");
    EXPECT_EQ(lean.before, before.full("cam lean, top"));
    EXPECT_EQ(lean.after, after.full("cam lean, top"));
    double least = HUGE_VAL;
    for (std::size_t i = 0; i < moved.draw.states.size(); ++i)
        least = std::min(least, after.at(i, "clearance"));
    EXPECT_EQ(measure(all, "clearance, smallest").after, least);
    // Three millimetres toward the arrow take about as much from the cables' clearance.
    EXPECT_TRUE(measure(all, "clearance, smallest").worse());
}

TEST(CureMeasures, LeaveOutTheTimingOfASingleCam) {
    const TuneSolver single(testing::demo_bow("single_cam"), 5);
    const MeasureKey timing{"timing_turns", DrawPlace::full_draw};
    EXPECT_FALSE(find(compare(single.today(), single.today()), timing));
    EXPECT_TRUE(find(compare(solver().today(), solver().today()), timing));
}

}  // namespace
}  // namespace limbwright::models::before_after_test
