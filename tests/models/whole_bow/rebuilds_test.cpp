#include <gtest/gtest.h>

#include <cmath>

#include "models/bow/spacers.hpp"
#include "models/study/batch_solver.hpp"
#include "models/study/objective.hpp"
#include "tests/support/strung.hpp"

/// What tuners know of rebuilds (common practice), asked of whole studies: every pairing of limbs in hand
/// with every spacer layout of the box, solved and ranked.
namespace limbwright::models::whole_bow_rebuilds_test {
namespace {

Bow crossed() {
    Bow bow = testing::demo_bow("crossed");
    bow.shooter.states = 9;
    return bow;
}

/// All layouts of the demo bow with crossed cables. Its box fills both gaps in 81 ways, from 4 mm right of
/// the middle to 4 mm left.
struct Solved {
    Solved(const std::vector<double>& limbs, LengthRule rule) : base(crossed(), study_of(limbs, rule)) {
        LayoutSolver solver(base);
        for (std::int64_t number = 0; number < base.product().size();) {
            std::vector<std::int64_t> pack;
            while (pack.size() < 8 && number < base.product().size()) pack.push_back(number++);
            for (LayoutRow& row : solver.solve(pack)) rows.push_back(std::move(row));
        }
        failed = solver.counts().failed;
    }

    static Study study_of(const std::vector<double>& limbs, LengthRule rule) {
        Study study;
        study.limbs = limbs;
        study.spacers = {{1.5, 4}, {2.5, 4}};
        study.lengths = rule;
        return study;
    }

    StudyBase base;
    std::vector<LayoutRow> rows;
    std::int64_t failed = 0;
};

/// Limbs in pairs, two stiffer and two softer.
const Solved& in_pairs(LengthRule rule) {
    static const Solved kept({52, 52, 48, 48}, LengthRule::kept),
        re_timed({52, 52, 48, 48}, LengthRule::re_timed);
    return rule == LengthRule::kept ? kept : re_timed;
}
/// As the demo bow's, and spare ones that would make all four alike.
const Solved& with_spares() {
    static const Solved made({51, 49, 50, 50, 50, 50}, LengthRule::kept);
    return made;
}

struct Best {
    Layout layout;
    double miss = 0;
    double lean_top = 0, lean_bottom = 0;  ///< at full draw [deg]
};

/// By rising score, layouts that `counts` leaves out passed over.
template <class Counts>
Best best(const Solved& s, const std::vector<Aim>& aims, const Counts& counts) {
    Study study;
    study.aims = aims;
    const Scorer scorer(study, s.base.columns());
    Best best{{}, HUGE_VAL};
    for (const LayoutRow& row : s.rows) {
        const Layout layout = s.base.product().layout(row.number);
        const double miss = scorer.score(row.values).miss;
        if (!counts(layout) || miss >= best.miss) continue;
        best = {layout, miss};
        for (std::size_t c = 0; c < row.values.size(); ++c) {
            const PlacedMeasure& column = s.base.columns()[c];
            if (column.at != DrawPlace::full_draw) continue;
            if (column.measure.id == "lean_top") best.lean_top = row.values[c];
            if (column.measure.id == "lean_bottom") best.lean_bottom = row.values[c];
        }
    }
    return best;
}
Best best(const Solved& s, const std::vector<Aim>& aims) {
    return best(s, aims, [](const Layout&) { return true; });
}

/// Both leans at full draw as far to one side as can be; most: to the left.
std::vector<Aim> both_leans(Wish wish) {
    return {{{"lean_top", {}, DrawPlace::full_draw}, wish},
            {{"lean_bottom", {}, DrawPlace::full_draw}, wish}};
}
const std::vector<Aim> leans_alike{{{"lean_top", "lean_bottom", DrawPlace::full_draw}}};

/// Cams' offsets, positive left [mm].
double top_offset(const Layout& layout) {
    return cam_offset(layout.spacers_top);
}
double bottom_offset(const Layout& layout) {
    return cam_offset(layout.spacers_bottom);
}
bool has_equal_limbs(const Layout& layout) {
    const Pairing& p = layout.pairing;
    return p.top_left == p.top_right && p.top_left == p.bottom_left && p.top_left == p.bottom_right;
}
bool has_equal_spacers(const Layout& layout) {
    return std::abs(top_offset(layout) - bottom_offset(layout)) < 1e-9;
}

class Rebuilding : public ::testing::TestWithParam<LengthRule> {};
INSTANTIATE_TEST_SUITE_P(Lengths, Rebuilding, ::testing::Values(LengthRule::kept, LengthRule::re_timed),
                         [](const auto& rule) {
                             return rule.param == LengthRule::kept ? "kept" : "re_timed";
                         });

TEST_P(Rebuilding, SolvesEveryLayout) {
    EXPECT_EQ(in_pairs(GetParam()).rows.size(), 6u * 81);
    EXPECT_EQ(in_pairs(GetParam()).failed, 0);
}

/// Common practice: for lean to the left the stiffer limbs go to the right, top and bottom, and both cams
/// away from them.
TEST_P(Rebuilding, ForMostLeanToTheLeftPutsStifferLimbsRightAndCamsLeft) {
    const Best left = best(in_pairs(GetParam()), both_leans(Wish::most));
    EXPECT_EQ(left.layout.pairing.top_right, 52);
    EXPECT_EQ(left.layout.pairing.bottom_right, 52);
    EXPECT_EQ(left.layout.pairing.top_left, 48);
    EXPECT_EQ(left.layout.pairing.bottom_left, 48);
    EXPECT_EQ(top_offset(left.layout), 4);
    EXPECT_EQ(bottom_offset(left.layout), 4);
    EXPECT_GT(left.lean_top, 1);
    EXPECT_GT(left.lean_bottom, 1);
}

/// And the other way round.
TEST_P(Rebuilding, ForMostLeanToTheRightPutsStifferLimbsLeftAndCamsRight) {
    const Best right = best(in_pairs(GetParam()), both_leans(Wish::least));
    EXPECT_EQ(right.layout.pairing.top_left, 52);
    EXPECT_EQ(right.layout.pairing.bottom_left, 52);
    EXPECT_EQ(right.layout.pairing.top_right, 48);
    EXPECT_EQ(right.layout.pairing.bottom_right, 48);
    EXPECT_EQ(top_offset(right.layout), -4);
    EXPECT_EQ(bottom_offset(right.layout), -4);
    EXPECT_LT(right.lean_top, -1);
    EXPECT_LT(right.lean_bottom, -1);
}

/// With one stiffer and one softer limb each end gets one of the two, on its side; the ranking's four first
/// are a hundredth of a degree apart.
TEST(Rebuild, OfAStifferAndASofterLimbLeansMostWithEachOnItsSide) {
    const Best left = best(with_spares(), both_leans(Wish::most));
    const Pairing& p = left.layout.pairing;
    EXPECT_GE(p.top_right, p.top_left);
    EXPECT_GE(p.bottom_right, p.bottom_left);
    EXPECT_EQ(p.top_right + p.bottom_right - p.top_left - p.bottom_left, 2);
    EXPECT_EQ(top_offset(left.layout), 4);
    EXPECT_EQ(bottom_offset(left.layout), 4);
}

/// Limbs and spacers pull one way: either alone leans the cams less than both.
TEST_P(Rebuilding, LeansLessByLimbsOrSpacersAlone) {
    const Solved& s = in_pairs(GetParam());
    const Best both = best(s, both_leans(Wish::most));
    const Best limbs = best(s, both_leans(Wish::most), [](const Layout& l) {
        return std::abs(top_offset(l)) < 1e-9 && std::abs(bottom_offset(l)) < 1e-9;
    });
    const Best spacers = best(s, both_leans(Wish::most),
                              [](const Layout& l) { return l.pairing.top_left == l.pairing.top_right; });
    EXPECT_EQ(limbs.layout.pairing.top_right, 52);
    EXPECT_EQ(limbs.layout.pairing.bottom_right, 52);
    EXPECT_EQ(top_offset(spacers.layout), 4);
    EXPECT_EQ(bottom_offset(spacers.layout), 4);
    // A quarter of a degree at each end, a tenth of what spacers can do here.
    EXPECT_GT(both.lean_top, limbs.lean_top + 0.25);
    EXPECT_GT(both.lean_bottom, limbs.lean_bottom + 0.25);
    EXPECT_GT(both.lean_top, spacers.lean_top + 0.25);
    EXPECT_GT(both.lean_bottom, spacers.lean_bottom + 0.25);
}

/// Common practice: cables held aside above the grip lean the cams by unequal amounts, and a bow alike top
/// and bottom, left and right cannot even them out.
TEST(Rebuild, ToMakeLeansAlikeUsesUnequalLimbsOrSpacers) {
    const Solved& s = with_spares();
    const Best any = best(s, leans_alike);
    EXPECT_FALSE(has_equal_limbs(any.layout) && has_equal_spacers(any.layout));
    const Best even =
        best(s, leans_alike, [](const Layout& l) { return has_equal_limbs(l) && has_equal_spacers(l); });
    EXPECT_LT(any.miss, 0.01);
    EXPECT_GT(even.miss, 0.1);
}

/// Either alone goes most of the way.
TEST(Rebuild, MakesLeansAlikeByUnequalLimbsOrByUnequalSpacers) {
    const Solved& s = with_spares();
    const Best spacers = best(s, leans_alike, has_equal_limbs);
    EXPECT_FALSE(has_equal_spacers(spacers.layout));
    const Best limbs = best(s, leans_alike, has_equal_spacers);
    EXPECT_FALSE(has_equal_limbs(limbs.layout));
    for (const Best& b : {spacers, limbs}) EXPECT_LT(b.miss, 0.1);
}

}  // namespace
}  // namespace limbwright::models::whole_bow_rebuilds_test
