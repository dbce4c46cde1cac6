#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/support/strung.hpp"

/// What tuners know of limbs and spacers (common practice): each as a change against the bow with four equal
/// limbs and centred cams, string and cables untouched, crossed cables.
namespace limbwright::models::whole_bow_practice_test {
namespace {

using solver::State;

/// Positive: the outer edge to the left [deg].
struct Lean {
    double top, bottom;
};
struct Seen {
    std::array<Lean, 2> lean;  ///< at brace, at full draw
    std::array<std::array<double, 4>, 2>
        tip;  ///< size of the force on each tip: top left, right, bottom left, right [N]
};

/// Size of the force between a limb's tip and its axle.
double tip_force(const AssembledBow& bow, std::size_t end, std::size_t flank, const State& state) {
    const LimbRow& row = bow.limbs[end].rows[bow.limbs[end].tip_rows[flank]];
    const auto& beam = static_cast<const solver::Beam&>(*bow.system.elements()[row.beams.back()]);
    return beam.section_forces(state)[1].force.norm();
}

class Practice : public ::testing::TestWithParam<const char*> {
protected:
    Practice()
        : bow_(bow_of(GetParam())), lengths_(testing::strung(bow_).lengths), even_(seen(bow_.layout)) {}

    static Bow bow_of(const std::string& name) {
        Bow bow = name == "small"          ? testing::small_bow()
                  : name == "small_uneven" ? testing::small_uneven_bow()
                                           : testing::demo_bow(name);
        bow.layout.pairing = {50, 50, 50, 50};
        bow.layout.spacers_top = bow.layout.spacers_bottom = {{1.5, 2.5}, {1.5, 2.5}};
        return bow;
    }

    [[nodiscard]] Seen seen(const Layout& layout) const {
        const testing::Drawn d = testing::drawn(testing::strung(string_up(assemble(bow_, layout), lengths_)),
                                                testing::in_states(9));
        Seen s{};
        for (std::size_t when = 0; when < 2; ++when) {
            const std::size_t i = when == 0 ? 0 : d.draw.states.size() - 1;
            s.lean[when] = {d.at(i, "cam lean, top"), d.at(i, "cam lean, bottom")};
            for (std::size_t tip = 0; tip < 4; ++tip)
                s.tip[when][tip] = tip_force(d.bow(), tip / 2, tip % 2, d.draw.states[i].state);
        }
        return s;
    }

    [[nodiscard]] Layout with_limbs(const Pairing& pairing) const {
        Layout layout = bow_.layout;
        layout.pairing = pairing;
        return layout;
    }
    /// The top cam moved to the left by an amount that no real spacer has.
    static Layout moved_left(Layout layout, double by) {
        layout.spacers_top = {{4 - by}, {4 + by}};
        return layout;
    }
    /// Changes of lean against the even bow.
    [[nodiscard]] std::array<Lean, 2> change(const Seen& s) const {
        std::array<Lean, 2> c{};
        for (std::size_t when = 0; when < 2; ++when)
            c[when] = {s.lean[when].top - even_.lean[when].top,
                       s.lean[when].bottom - even_.lean[when].bottom};
        return c;
    }

    Bow bow_;
    NaturalLengths lengths_;
    Seen even_;
};
INSTANTIATE_TEST_SUITE_P(Common, Practice, ::testing::Values("small", "small_uneven", "crossed"),
                         [](const auto& name) { return std::string(name.param); });

/// Common practice: the stiffer limb carries more.
TEST_P(Practice, AStifferLimbPutsTheLargerForceOnItsEndOfTheAxle) {
    const std::array<Pairing, 4> one_stiffer{
        {{52, 50, 50, 50}, {50, 52, 50, 50}, {50, 50, 52, 50}, {50, 50, 50, 52}}};
    for (std::size_t tip = 0; tip < 4; ++tip) {
        const Seen s = seen(with_limbs(one_stiffer[tip]));
        const std::size_t other = tip ^ 1;
        for (std::size_t when = 0; when < 2; ++when)
            EXPECT_GT(s.tip[when][tip] - even_.tip[when][tip],
                      s.tip[when][other] - even_.tip[when][other] + 1)  // N
                << "tip " << tip << (when == 0 ? " at brace" : " at full draw");
    }
}

/// Common practice: with the stiffer pair on the left, both cams' outer edges turn to the right.
TEST_P(Practice, StifferLimbsOnOneSideTurnTheOuterEdgesOfBothCamsToTheOther) {
    for (const Lean& lean : change(seen(with_limbs({52, 50, 52, 50})))) {
        EXPECT_LT(lean.top, -0.05);
        EXPECT_LT(lean.bottom, -0.05);
    }
    for (const Lean& lean : change(seen(with_limbs({50, 52, 50, 52})))) {
        EXPECT_GT(lean.top, 0.05);
        EXPECT_GT(lean.bottom, 0.05);
    }
}

/// Common practice: crosswise, the cams lean apart.
TEST_P(Practice, StifferLimbsOnOppositeSidesTurnTheCamsToOppositeSides) {
    for (const Lean& lean : change(seen(with_limbs({52, 50, 50, 52})))) {
        EXPECT_LT(lean.top, -0.05);
        EXPECT_GT(lean.bottom, 0.05);
    }
    for (const Lean& lean : change(seen(with_limbs({50, 52, 52, 50})))) {
        EXPECT_GT(lean.top, 0.05);
        EXPECT_LT(lean.bottom, -0.05);
    }
}

/// Common practice: spacers that move a cam away from its stiffer limb add to the lean that the limb gives
/// it.
TEST_P(Practice, MovingACamAwayFromItsStifferLimbAddsToItsLean) {
    const Layout stiff_left = with_limbs({52, 50, 50, 50});
    const auto there = change(seen(stiff_left)), away = change(seen(moved_left(stiff_left, -0.25)));
    for (std::size_t when = 0; when < 2; ++when) EXPECT_LT(away[when].top, there[when].top - 0.03);
}

/// Common practice: toward it they take from it, and bring the cam upright.
TEST_P(Practice, MovingACamTowardItsStifferLimbBringsItUpright) {
    const Layout stiff_left = with_limbs({52, 50, 50, 50});
    const auto there = change(seen(stiff_left)), toward = change(seen(moved_left(stiff_left, 0.25)));
    for (std::size_t when = 0; when < 2; ++when) {
        EXPECT_LT(there[when].top, 0);
        EXPECT_GT(toward[when].top, there[when].top + 0.03);
        EXPECT_LT(std::abs(toward[when].top), std::abs(there[when].top));
        // Some move, here less than a millimetre, brings it back where four equal limbs have it.
        EXPECT_GT(change(seen(moved_left(stiff_left, 1)))[when].top, 0);
    }
}

}  // namespace
}  // namespace limbwright::models::whole_bow_practice_test
