#include "models/matching/observables.hpp"

#include <gtest/gtest.h>

#include <set>

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
        return find(bench_quantities(bow.bow.bow), key)->value(bow.bow, {draw, draw.peak_index()});
    }
};

TEST(BenchQuantities, ThoseAtBraceAreTheMeasuresOfThatName) {
    const Bench bench(small_uneven_bow());
    for (const auto& [key, name] : {std::pair{"axle_to_axle", "axle-to-axle"},
                                    {"brace_height", "brace height"},
                                    {"nocking_point_height", "nocking-point height"},
                                    {"straightedge_gap_top", "straightedge gap, top"},
                                    {"straightedge_gap_bottom", "straightedge gap, bottom"}})
        EXPECT_EQ(bench(key), limbwright::testing::Drawn({bench.bow, bench.draw}).whole(name, "mm")) << key;
}

TEST(BenchQuantities, WeightsAreTheDrawsForces) {
    Bench bench(small_bow());
    bench.draw.states.resize(3);
    const double forces[] = {0, 300, 75};
    for (std::size_t i = 0; i < 3; ++i) bench.draw.states[i].force = forces[i];
    EXPECT_EQ(bench("draw_weight"), 75);  // of the draw's end
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
    EXPECT_NE(find(bench_quantities(small_bow()), "timing_brace"), nullptr);
    const auto quantities = bench_quantities(limbwright::testing::demo_bow("single_cam"));
    EXPECT_EQ(find(quantities, "timing_brace"), nullptr);
    EXPECT_EQ(find(quantities, "timing_full_draw"), nullptr);
}

TEST(BenchQuantities, EveryOneHasAKeyAnUncertaintyAndADefinition) {
    std::set<std::string> keys;
    for (const BenchQuantity& q : bench_quantities(small_bow())) {
        EXPECT_TRUE(keys.insert(q.key).second) << q.key;
        EXPECT_GT(q.sigma, 0) << q.key;
        EXPECT_FALSE(q.of.measure.definition.empty()) << q.key;
    }
}

}  // namespace
}  // namespace limbwright::models::observables_test
