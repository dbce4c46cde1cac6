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
SolvedTune solved(const Layout& tune) {
    return std::get<SolvedTune>(solver().solve(tune, LengthRule::kept));
}
CureMeasure measure(const std::vector<CureMeasure>& all, const std::string& name) {
    return *std::ranges::find(all, name, &CureMeasure::name);
}

CureMeasure made_up(Worse when, double before, double after) {
    CureMeasure m;
    m.name = "made up";
    m.unit = "mm";
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
        EXPECT_TRUE(names.insert(m.name).second) << m.name;
        EXPECT_EQ(m.before, m.after) << m.name;
        EXPECT_TRUE(std::isfinite(m.before)) << m.name;
        EXPECT_FALSE(m.worse() || m.unit.empty() || m.definition.empty()) << m.name;
    }
    for (const char* name : {"tail turn, lateral", "cam lean, top, at full draw", "forgiveness, arrow yaw",
                             "clearance, smallest", "guide side force, at full draw", "peak weight"})
        EXPECT_TRUE(names.contains(name)) << name;
}

TEST(CureMeasures, AreReadOffBothDraws) {
    Layout tune = solver().today().layout;
    tune.guide_lateral = 3;
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
    for (const CureMeasure& m : compare(single.today(), single.today()))
        EXPECT_NE(m.name, "timing, at full draw");
}

}  // namespace
}  // namespace limbwright::models::before_after_test
