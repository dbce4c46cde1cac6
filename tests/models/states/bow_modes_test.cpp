#include "models/states/bow_modes.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "tests/support/strung.hpp"

namespace limbwright::models::bow_modes_test {
namespace {

using testing::Drawn;

BowModes found(const std::variant<BowModes, std::string>& answer) {
    if (const auto* why = std::get_if<std::string>(&answer)) throw std::runtime_error(*why);
    return std::get<BowModes>(answer);
}
BowModes at_brace(const StrungBow& strung, int count = 8) {
    return found(bow_modes(strung.bow, strung.brace.state, held_at_brace(strung.bow), count));
}
BowModes at_full_draw(const Drawn& drawn, int count = 8) {
    return found(bow_modes(drawn.bow(), drawn.full_state(), held_while_drawing(drawn.bow()), count));
}

TEST(BowModes, EveryDemoBowIsStableAndSwingsAtBraceAndAtFullDraw) {
    for (const char* name : testing::demo_bows) {
        const Drawn drawn = testing::drawn(testing::demo_bow(name));
        for (const BowModes& modes : {at_brace(drawn.strung), at_full_draw(drawn)}) {
            EXPECT_EQ(modes.unstable, 0) << name;
            ASSERT_EQ(modes.lowest.size(), 8u) << name;
            for (const BowMode& mode : modes.lowest) EXPECT_GT(mode.motion.frequency(), 1) << name;
        }
    }
}

/// How far a mode is from moving the right limbs as the left ones' mirror image through the XZ plane (even)
/// and from the opposite (odd), against the sum of both.
struct Parity {
    double even = 0, odd = 0;
};
Parity parity_of(const AssembledBow& bow, const solver::State& state, const BowMode& mode) {
    const auto motion = [&](const solver::Frame& frame) -> Vec3 {
        return solver::motion_of({.frame = frame}, state, mode.motion.shape, bow.system.numbering())
            .head<3>();
    };
    Parity parity;
    for (const LimbParts& end : bow.limbs)
        for (std::size_t i = 0; i < end.rows[0].sections.size(); ++i) {
            const Vec3 left = motion(end.rows[0].sections[i]);
            const Vec3 image = motion(end.rows[1].sections[i]).cwiseProduct(Vec3(1, -1, 1));
            parity.even += (left - image).norm();
            parity.odd += (left + image).norm();
        }
    const double both = parity.even + parity.odd;
    return {parity.even / both, parity.odd / both};
}

TEST(BowModes, AnEvenBowsModesAreEvenOrOddAboutItsPlane) {
    const Drawn& drawn = testing::even_bow();
    const auto check = [&](const solver::State& state, const BowModes& modes) {
        for (const BowMode& mode : modes.lowest) {
            const Parity parity = parity_of(drawn.bow(), state, mode);
            // Of the iteration: where two frequencies lie near each other it leaves the most of one in the
            // other.
            EXPECT_LT(std::min(parity.even, parity.odd), 1e-6) << mode.motion.frequency();
            EXPECT_EQ(parity.odd<parity.even, mode.sideways> 0.5) << mode.motion.frequency();
        }
    };
    check(drawn.strung.brace.state, at_brace(drawn.strung));
    check(drawn.full_state(), at_full_draw(drawn));
}

TEST(BowModes, EnergySharesAddUpToOne) {
    for (const BowMode& mode : at_brace(testing::uneven_bow().strung).lowest)
        EXPECT_NEAR(std::accumulate(mode.shares.begin(), mode.shares.end(), 0.), 1, 1e-12);
}

TEST(BowModes, AMirroredBowSwingsAlike) {
    const Drawn mirrored_bow = testing::drawn(mirrored(testing::small_uneven_bow()));
    const BowModes here = at_full_draw(testing::uneven_bow()), there = at_full_draw(mirrored_bow);
    for (std::size_t i = 0; i < here.lowest.size(); ++i) {
        // The states themselves agree to some 1e-9.
        EXPECT_NEAR(there.lowest[i].motion.eigenvalue / here.lowest[i].motion.eigenvalue, 1, 1e-6);
        EXPECT_NEAR(there.lowest[i].sideways, here.lowest[i].sideways, 1e-5);
    }
}

TEST(BowModes, MoreMassAnywhereSlowsEveryMode) {
    // Rayleigh's theorem: eigenvalues fall, or stay, as masses rise.
    const BowModes light = at_brace(testing::even_bow().strung);
    const auto heavier = [](auto change) {
        Bow bow = testing::small_bow();
        change(bow);
        return at_brace(testing::strung(bow));
    };
    const BowModes others[] = {heavier([](Bow& b) { b.limb.material.density = 2.5e-9; }),
                               heavier([](Bow& b) { b.riser.material.density = 3e-9; }),
                               heavier([](Bow& b) { b.cam_top.mass = 200e-6; }),
                               heavier([](Bow& b) { b.cables.string_mass = 8e-9; })};
    for (const BowModes& heavy : others)
        for (std::size_t i = 0; i < light.lowest.size(); ++i)
            EXPECT_LT(heavy.lowest[i].motion.eigenvalue, light.lowest[i].motion.eigenvalue * (1 + 1e-6)) << i;
}

TEST(BowModes, LumpsOfTheLimbsAreFineEnough) {
    // Lumped masses err with the square of the limbs' elements: twice as many leave a quarter of the error.
    const auto with = [](int elements) {
        Bow bow = testing::small_bow();
        bow.limb.elements = elements;
        return at_brace(testing::strung(bow), 5);
    };
    const BowModes coarse = with(6), middle = with(12), fine = with(24);
    for (std::size_t i = 0; i < 5; ++i) {
        const double f = fine.lowest[i].motion.frequency();
        const double first = std::abs(coarse.lowest[i].motion.frequency() - f);
        const double second = std::abs(middle.lowest[i].motion.frequency() - f);
        EXPECT_LT(first, 0.02 * f) << i;
        EXPECT_LT(second, 0.3 * first + 1e-6 * f) << i;
    }
}

TEST(BowModes, CompliantPocketsAndEveryGuideHaveTheirMass) {
    for (const GuideKind kind :
         {GuideKind::none, GuideKind::rollers, GuideKind::rod, GuideKind::bending_rod}) {
        Bow bow = testing::small_uneven_bow();
        for (Pocket* pocket : {&bow.pocket_top, &bow.pocket_bottom}) {
            pocket->bending_stiffness = 9e6;
            pocket->twisting_stiffness = 8e5;
        }
        bow.guide.kind = kind;
        bow.guide.rod_diameter = 9;
        bow.guide.rod_material = {60000, 24000};
        const BowModes modes = at_brace(testing::strung(bow));
        EXPECT_EQ(modes.unstable, 0);
        EXPECT_GT(modes.lowest[0].motion.frequency(), 1);
    }
}

TEST(BowModes, AHeavyStringSwingsInThePlane) {
    Bow bow = testing::small_bow();
    bow.cables.string_mass = 90e-9;  // so that the string alone leads a mode
    const BowModes modes = at_brace(testing::strung(bow));
    const auto led = std::ranges::find_if(
        modes.lowest, [&](const BowMode& mode) { return modes.parts[mode.leading_part()] == "string"; });
    ASSERT_NE(led, modes.lowest.end());
    EXPECT_LT(led->sideways, 0.01);
}

TEST(BowModes, AFreedomWithoutMassIsNamedByItsPart) {
    Bow bow = testing::small_bow();
    bow.cables.string_mass = 0;
    const StrungBow strung = testing::strung(bow);
    const auto answer = bow_modes(strung.bow, strung.brace.state, held_at_brace(strung.bow), 4);
    const auto* why = std::get_if<std::string>(&answer);
    ASSERT_TRUE(why);
    EXPECT_NE(why->find("has no mass, at the nocking point"), std::string::npos) << *why;
}

}  // namespace
}  // namespace limbwright::models::bow_modes_test
