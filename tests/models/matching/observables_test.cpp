#include "models/matching/observables.hpp"

#include <gtest/gtest.h>

#include <set>

#include "models/states/draw_measures.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::observables_test {
namespace {

using limbwright::testing::in_states;
using limbwright::testing::small_bow;
using limbwright::testing::small_uneven_bow;
using limbwright::testing::strung;
using limbwright::testing::whole;

struct Bench {
    StrungBow bow;
    Draw draw;
    explicit Bench(const Bow& of) : bow(strung(of)), draw(whole(models::draw(bow, in_states(9)))) {}
    [[nodiscard]] double operator()(const std::string& key) const {
        const auto quantities = bench_quantities(bow.bow.bow);
        return find(quantities, key)->value({bow, draw.states.back().state, 200, 300, 75});
    }
    [[nodiscard]] double measure(const std::string& name) const {
        for (const DrawMeasure& m : draw_measures())
            if (m.name == name) return m.value(bow, draw);
        return std::nan("");
    }
};

TEST(BenchQuantities, ThoseAtBraceAreTheMeasuresOfThatName) {
    const Bench bench(small_uneven_bow());
    for (const auto& [key, name] : {std::pair{"axle_to_axle", "axle-to-axle"},
                                    {"brace_height", "brace height"},
                                    {"nocking_point_height", "nocking-point height"},
                                    {"straightedge_gap_top", "straightedge gap, top"},
                                    {"straightedge_gap_bottom", "straightedge gap, bottom"}})
        EXPECT_EQ(bench(key), bench.measure(name)) << key;
}

TEST(BenchQuantities, WeightsAreTheDrawsForces) {
    const Bench bench(small_bow());
    EXPECT_EQ(bench("draw_weight"), 200);
    EXPECT_EQ(bench("peak_weight"), 300);
    EXPECT_EQ(bench("holding_weight"), 75);
    EXPECT_DOUBLE_EQ(bench("let_off"), 75);  // 1 − 75/300
}

TEST(BenchQuantities, TipHeightsOfOneSideAddUpToTheTipsDistance) {
    // Axle-to-axle is told between the axles' middles; string and cables bend each inward by some 0.2 mm.
    const Bench bench(small_bow());
    const double left = bench("tip_height_top_left") + bench("tip_height_bottom_left");
    EXPECT_GT(left, bench("axle_to_axle"));
    EXPECT_LT(left, bench("axle_to_axle") + 0.6);
    EXPECT_NEAR(bench("tip_height_top_left"), bench("tip_height_top_right"), 1e-6);  // symmetry, solver's end
}

TEST(BenchQuantities, TheStifferLimbsTipStandsHigher) {
    Bow bow = small_bow();
    bow.layout.pairing.top_left = 55;
    const Bench bench(bow);
    EXPECT_GT(bench("tip_height_top_left"), bench("tip_height_top_right"));
}

TEST(BenchQuantities, TimingIsTheMarksDifferenceAtBrace) {
    Bow bow = small_bow();
    bow.brace.mark_top = 0.02;
    bow.brace.mark_bottom = -0.01;
    EXPECT_NEAR(Bench(bow)("timing_brace"), 0.03, 1e-7);  // stringing meets marks to 1e-7
    EXPECT_GT(Bench(bow)("timing_full_draw"), 0);
}

TEST(BenchQuantities, ArrowRestIsTheBowFiles) {
    Bow bow = small_bow();
    bow.shooter.rest = {30, 1.5, 18};
    EXPECT_EQ(Bench(bow)("rest_lateral"), 1.5);
    EXPECT_EQ(Bench(bow)("rest_height"), 18);
}

TEST(BenchQuantities, ASingleCamBowHasNoTiming) {
    Bow bow = small_bow();
    EXPECT_NE(find(bench_quantities(bow), "timing_brace"), nullptr);
    bow.cables.system = CableSystem::single_cam;
    const auto quantities = bench_quantities(bow);
    EXPECT_EQ(find(quantities, "timing_brace"), nullptr);
    EXPECT_EQ(find(quantities, "timing_full_draw"), nullptr);
}

TEST(BenchQuantities, EveryOneHasAKeyAnUncertaintyAndADefinition) {
    std::set<std::string> keys;
    for (const BenchQuantity& q : bench_quantities(small_bow())) {
        EXPECT_TRUE(keys.insert(q.key).second) << q.key;
        EXPECT_GT(q.sigma, 0) << q.key;
        EXPECT_FALSE(q.definition.empty()) << q.key;
    }
}

}  // namespace
}  // namespace limbwright::models::observables_test
