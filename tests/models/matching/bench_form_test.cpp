#include "models/matching/bench_form.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow_file.hpp"

namespace limbwright::models::bench_form_test {
namespace {

TEST(StarterBench, HoldsWhatWasMeasuredAndHowUnsureTheGuessesAre) {
    const BenchNumbers numbers{838, 178, 737, 267, 320, 24, 0, 9, 5.4, Hand::right};
    const Bow bow = bow_from_toml(starter_bow(numbers), "starter.toml");
    const BenchRecord sheet = starter_bench(numbers, bow);
    ASSERT_EQ(sheet.measurements.size(), 3u);
    EXPECT_EQ(sheet.measurements[2].quantity, "peak_weight");
    EXPECT_EQ(sheet.measurements[2].value, 267);
    EXPECT_DOUBLE_EQ(sheet.bow_sure.at("limb_stiffness"), 0.2 * *bow.limb.spring_rate);
    const BenchRecord read = bench_from_toml(bench_form(bow, sheet, {}), "bench.toml", bow);
    EXPECT_EQ(read.measurements.size(), 3u);
    EXPECT_NEAR(read.bow_sure.at("pocket_angle"), sheet.bow_sure.at("pocket_angle"), 1e-12);
}

TEST(StarterBench, TakesATipAsWideAsTheRootWhereItIsNotTold) {
    const BenchNumbers numbers{838, 178, 737, 267, 320, 24, 0, 9, 5.4, Hand::right};
    EXPECT_EQ(bow_from_toml(starter_bow(numbers), "starter.toml").limb.stations.back().width, 24);
}

}  // namespace
}  // namespace limbwright::models::bench_form_test
