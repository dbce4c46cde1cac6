#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "models/bow/spacers.hpp"
#include "solver/system/assembly.hpp"
#include "tests/support/strung.hpp"

/// Every kind of part that a bow file knows strings and draws, and every layout of the demo bows.
namespace limbwright::models::whole_bow_kinds_test {
namespace {

struct Kind {
    const char* name;
    std::function<void(Bow&)> make;
};

const Kind kinds[] = {
    {"no_guide", [](Bow& b) { b.guide.kind = GuideKind::none; }},
    {"rollers",
     [](Bow& b) {
         b.guide.kind = GuideKind::rollers;
         b.guide.position.x() = -80;
     }},
    {"bending_rod",
     [](Bow& b) {
         b.guide.kind = GuideKind::bending_rod;
         b.guide.rod_diameter = 9;
         b.guide.rod_material = {60000, 24000};
     }},
    {"guide_at_the_grip", [](Bow& b) { b.guide.position.z() = 5; }},
    {"soft_pockets",
     [](Bow& b) {
         for (Pocket* p : {&b.pocket_top, &b.pocket_bottom}) {
             p->bending_stiffness = 5e6;
             p->twisting_stiffness = 2e6;
         }
     }},
    {"solid_limbs",
     [](Bow& b) {
         b.limb.kind = LimbKind::solid;
         b.limb.fork = 90;
         b.limb.prong_width = 24;
         for (LimbStation& s : b.limb.stations) s.width = 48;
         b.layout.pairing = {50, 50, 50, 50};
     }},
    {"solid_limbs_in_soft_pockets",
     [](Bow& b) {
         kinds[5].make(b);
         kinds[4].make(b);
     }},
    {"spring_rate",
     [](Bow& b) { b.limb.spring_rate = flatwise_rate(limb_strip(b.limb), limb_moduli(b.limb, 50)); }},
    {"curved_limbs_with_a_bore_offset",
     [](Bow& b) {
         for (LimbStation& s : b.limb.stations) s.curvature = 1. / 3000;
         b.limb.bore_offset = 4;
     }},
};

class KindOf : public ::testing::TestWithParam<Kind> {};
INSTANTIATE_TEST_SUITE_P(Bow, KindOf, ::testing::ValuesIn(kinds),
                         [](const auto& kind) { return std::string(kind.param.name); });

TEST_P(KindOf, StringsDrawsAndKeepsItsEnergy) {
    for (Bow bow : {testing::small_bow(), testing::small_uneven_bow()}) {
        GetParam().make(bow);
        const testing::Drawn d = testing::drawn(bow, testing::in_states(21));
        EXPECT_TRUE(d.draw.warnings.empty()) << d.draw.warnings.front();
        EXPECT_LT(std::abs(d.full("energy error")), 1e-5 * d.full("stored energy"));
        EXPECT_EQ(d.full("negative pivots"), 0);
        EXPECT_LT(d.full("draw force"), d.whole("peak weight", "N"));
    }
}

TEST(KindOf, ASpringRateOfTheMaterialsOwnGivesTheSameBow) {
    const testing::Drawn material = testing::drawn(testing::small_uneven_bow());
    Bow bow = testing::small_uneven_bow();
    bow.limb.spring_rate = flatwise_rate(limb_strip(bow.limb), limb_moduli(bow.limb, 50));
    EXPECT_NEAR(testing::drawn(bow).full("draw force") / material.full("draw force"), 1, 1e-9);
}

/// Common practice: bolts turned out make the bow weaker.
TEST(KindOf, BoltsTurnedOutLowerThePeakWeight) {
    const Bow bow = testing::small_bow();
    const StrungBow in = testing::strung(bow);
    Layout out = bow.layout;
    out.bolt_top = out.bolt_bottom = 2;
    const testing::Drawn before = testing::drawn(in);
    const testing::Drawn after = testing::drawn(testing::strung(string_up(assemble(bow, out), in.lengths)));
    EXPECT_LT(after.whole("peak weight", "N"), before.whole("peak weight", "N") - 2);
}

/// Common practice: a rod that bends gives way to the cables, so that they stand nearer to the bow's plane.
TEST(KindOf, ARodThatBendsGivesWayToTheCables) {
    Bow bow = testing::small_uneven_bow();
    kinds[2].make(bow);
    const testing::Drawn d = testing::drawn(bow);
    const Vec3 eye =
        bow_frame(d.bow(), d.full_state()).inverse() * pose(*d.bow().guide.eyes[0], d.full_state()).position;
    EXPECT_GT(eye.y(), bow.guide.position.y() + 0.5 * bow.guide.spacing);
}

/// All that a rebuild of a bow may try, string and cables kept: each limb 10 % stiffer or weaker, each cam at
/// either end of its gap, the guide to either side.
std::vector<std::pair<std::string, Layout>> rebuilds(const Bow& bow) {
    std::vector<std::pair<std::string, Layout>> all;
    const auto add = [&](const std::string& what, const std::function<void(Layout&)>& change) {
        all.emplace_back(what, bow.layout);
        change(all.back().second);
    };
    double Pairing::*const limbs[] = {&Pairing::top_left, &Pairing::top_right, &Pairing::bottom_left,
                                      &Pairing::bottom_right};
    for (std::size_t i = 0; i < 4; ++i)
        for (const double share : {0.9, 1.1})
            add(fmt::format("limb {} by {}", i, share), [&](Layout& l) { l.pairing.*limbs[i] *= share; });
    for (SpacerStacks Layout::*stacks : {&Layout::spacers_top, &Layout::spacers_bottom}) {
        const double sum = total(bow.layout.*stacks);
        add("all spacers left", [&](Layout& l) { l.*stacks = {{sum}, {}}; });
        add("all spacers right", [&](Layout& l) { l.*stacks = {{}, {sum}}; });
    }
    for (const double by : {-3., 3.})
        add(fmt::format("guide by {}", by), [&](Layout& l) { l.guide_lateral = by; });
    return all;
}

class RebuildOf : public ::testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(Demo, RebuildOf, ::testing::ValuesIn(testing::demo_bows),
                         [](const auto& name) { return std::string(name.param); });

/// Whether a warning is true of the states that were found, by the parts themselves.
bool is_true(const std::string& warning, const testing::Drawn& d) {
    for (const DrawState& s : d.draw.states) {
        for (const CablePart& part : d.bow().all_cables()) {
            if (warning.find(part.name) == std::string::npos) continue;
            const solver::Cable& cable = d.bow().cable(part);
            if (warning.find("slack") != std::string::npos &&
                cable.length(s.state) <= cable.data().natural_length)
                return true;
            if (warning.find("off the end") != std::string::npos && cable.path(s.state).least_wound <= 0)
                return true;
        }
        if (warning.find("not stable") != std::string::npos && s.negative_pivots > 0) return true;
    }
    return false;
}

TEST_P(RebuildOf, StringsAndDrawsWhateverTheLayoutAndTheHand) {
    const Bow right_handed = testing::demo_bow(GetParam());
    for (const Bow& bow : {right_handed, mirrored(right_handed)}) {
        const NaturalLengths lengths = testing::strung(bow).lengths;
        for (const auto& [what, layout] : rebuilds(bow)) {
            SCOPED_TRACE(what + (bow.shooter.hand == Hand::left ? ", left hand" : ", right hand"));
            const Stringing strung = string_up(assemble(bow, layout), lengths);
            ASSERT_EQ(testing::why_not(strung), "");
            const testing::Drawn d{std::get<StrungBow>(strung),
                                   draw(std::get<StrungBow>(strung), testing::in_states(12))};
            EXPECT_FALSE(d.draw.failure) << *d.draw.failure;
            EXPECT_GE(d.draw.states.size(), 12u);
            for (const std::string& warning : d.draw.warnings) EXPECT_TRUE(is_true(warning, d)) << warning;
        }
    }
}

}  // namespace
}  // namespace limbwright::models::whole_bow_kinds_test
