#include "models/study/objective.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

namespace limbwright::models::objective_test {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

PlacedMeasure column(const char* id, const char* name, const char* unit, DrawPlace at) {
    return {{id, name, unit, "", 2, {}}, at};
}
const std::vector<PlacedMeasure> columns{column("lean_top", "lean, top", "deg", DrawPlace::full_draw),
                                         column("lean_top", "lean, top", "deg", DrawPlace::brace),
                                         column("lean_bottom", "lean, bottom", "deg", DrawPlace::full_draw),
                                         column("let_off", "let-off", "%", DrawPlace::whole),
                                         column("clearance", "clearance", "mm", DrawPlace::peak)};
const Quantity lean{"lean_top", {}, DrawPlace::full_draw};
const Quantity difference{"lean_top", "lean_bottom", DrawPlace::full_draw};
const Quantity let_off{"let_off", {}, DrawPlace::whole};
const Quantity clearance{"clearance", {}, DrawPlace::peak};

Study aiming(Aim aim) {
    Study study;
    study.aims = {aim};
    return study;
}

Study limited(Limit limit) {
    Study study;
    study.limits = {limit};
    return study;
}

/// Two aims at one column, one with a difference, and limits.
Study mixed() {
    Study study;
    study.aims = {{difference, Wish::target, 0.1, 0.05, 2},
                  {lean, Wish::least, 0, 0, 0.5},
                  {let_off, Wish::most, 0, 0, 0.1}};
    study.limits = {{clearance, 2, infinity}, {difference, -1, 1}};
    return study;
}

TEST(Scorer, ATargetIsMissedByWhatIsBeyondItsTolerance) {
    const Scorer scorer(aiming({lean, Wish::target, 1, 0.25, 2}), columns);
    EXPECT_DOUBLE_EQ(scorer.score({3, 0, 0, 0, 0}).misses[0], 1.75);
    EXPECT_DOUBLE_EQ(scorer.score({-1, 0, 0, 0, 0}).misses[0], 1.75);
    EXPECT_DOUBLE_EQ(scorer.score({1.2, 0, 0, 0, 0}).misses[0], 0);
    EXPECT_DOUBLE_EQ(scorer.score({3, 0, 0, 0, 0}).miss, 3.5);
}

TEST(Scorer, LeastAndMostCountTheValueItself) {
    EXPECT_EQ(Scorer(aiming({let_off, Wish::least}), columns).score({0, 0, 0, 80, 0}).miss, 80);
    EXPECT_EQ(Scorer(aiming({let_off, Wish::most}), columns).score({0, 0, 0, 80, 0}).miss, -80);
}

TEST(Scorer, ADifferenceTakesTheOtherMeasureOff) {
    EXPECT_DOUBLE_EQ(Scorer(aiming({difference, Wish::target}), columns).score({0.7, 9, -0.2, 0, 0}).miss,
                     0.9);
}

TEST(Scorer, AMeasureIsReadAtItsPlace) {
    const Quantity at_brace{"lean_top", {}, DrawPlace::brace};
    EXPECT_EQ(Scorer(aiming({at_brace, Wish::least}), columns).score({1, 2, 3, 4, 5}).miss, 2);
}

TEST(Scorer, WeightedMissesAddUp) {
    const Score score = Scorer(mixed(), columns).score({0.5, 0, 0.1, 80, 3});
    EXPECT_NEAR(score.miss, 2 * 0.25 + 0.5 * 0.5 - 0.1 * 80, 1e-12);  // sums of a few doubles
    EXPECT_EQ(score.misses.size(), 3u);
    EXPECT_TRUE(score.broken.empty());
}

TEST(Scorer, ABrokenLimitIsToldWithFigures) {
    const Scorer scorer(limited({clearance, 2, 9}), columns);
    EXPECT_EQ(scorer.score({0, 0, 0, 0, 1.25}).broken,
              (std::vector<std::string>{"clearance, at peak is 1.25 mm, at least 2 wanted"}));
    EXPECT_EQ(scorer.score({0, 0, 0, 0, 12}).broken,
              (std::vector<std::string>{"clearance, at peak is 12 mm, at most 9 wanted"}));
    EXPECT_TRUE(scorer.score({0, 0, 0, 0, 2}).broken.empty());
}

TEST(Scorer, WhatIsNotANumberMissesByInfinityAndBreaksLimits) {
    const Score score = Scorer(mixed(), columns).score({std::nan(""), 0, 0, 80, std::nan("")});
    EXPECT_EQ(score.miss, infinity);
    EXPECT_EQ(score.broken.size(), 2u);
}

TEST(Scorer, AQuantityWithoutAColumnIsRefused) {
    EXPECT_THROW(Scorer(aiming({{"clearance", {}, DrawPlace::brace}, Wish::least}), columns),
                 std::invalid_argument);
    EXPECT_THROW(Scorer(limited({{"lean, top", "clearance", DrawPlace::full_draw}, 0, 1}), columns),
                 std::invalid_argument);
}

TEST(Scorer, UsedColumnsStandOnceInRisingOrder) {
    EXPECT_EQ(Scorer(mixed(), columns).used(), (std::vector<std::size_t>{0, 2, 3, 4}));
}

TEST(ScorerBounds, WithoutErrorsAreTheScoreItself) {
    const std::vector<double> values{0.5, 0, 0.1, 80, 3}, none(5, 0.0);
    const Scorer scorer(mixed(), columns);
    const Scorer::Bounds bounds = scorer.bounds(values.data(), none.data());
    EXPECT_DOUBLE_EQ(bounds.least, scorer.score(values).miss);
    EXPECT_DOUBLE_EQ(bounds.largest, scorer.score(values).miss);
    EXPECT_TRUE(bounds.can_hold && bounds.must_hold);
}

TEST(ScorerBounds, OfATargetWithinReachBeginAtZero) {
    const std::vector<double> values{1.4, 0, 0, 0, 0}, errors{0.5, 0, 0, 0, 0};
    const auto bounds =
        Scorer(aiming({lean, Wish::target, 1, 0.1}), columns).bounds(values.data(), errors.data());
    EXPECT_EQ(bounds.least, 0);
    EXPECT_DOUBLE_EQ(bounds.largest, 0.8);
}

TEST(ScorerBounds, OfADifferenceAddBothErrors) {
    const std::vector<double> values{3, 0, 1, 0, 0}, errors{0.5, 0, 0.25, 0, 0};
    const auto bounds =
        Scorer(aiming({difference, Wish::target}), columns).bounds(values.data(), errors.data());
    EXPECT_DOUBLE_EQ(bounds.least, 1.25);
    EXPECT_DOUBLE_EQ(bounds.largest, 2.75);
}

TEST(ScorerBounds, OfAnUnknownValueEncloseAll) {
    const std::vector<double> values{std::nan(""), 0, 0, 0, 0}, errors(5, 0.0);
    const auto bounds = Scorer(aiming({lean, Wish::most}), columns).bounds(values.data(), errors.data());
    EXPECT_EQ(bounds.least, -infinity);
    EXPECT_EQ(bounds.largest, infinity);
    const auto limits = Scorer(limited({lean, 0, 1}), columns).bounds(values.data(), errors.data());
    EXPECT_TRUE(limits.can_hold);
    EXPECT_FALSE(limits.must_hold);
}

TEST(ScorerBounds, TellWhetherALimitCanOrMustHold) {
    const Scorer scorer(limited({clearance, 2, 4}), columns);
    const std::vector<double> errors(5, 0.5);
    const auto at = [&](double value) {
        const std::vector<double> values{0, 0, 0, 0, value};
        const Scorer::Bounds b = scorer.bounds(values.data(), errors.data());
        return std::pair{b.can_hold, b.must_hold};
    };
    EXPECT_EQ(at(1), (std::pair{false, false}));
    EXPECT_EQ(at(1.75), (std::pair{true, false}));
    EXPECT_EQ(at(3), (std::pair{true, true}));
    EXPECT_EQ(at(4.25), (std::pair{true, false}));
    EXPECT_EQ(at(5), (std::pair{false, false}));
}

TEST(ScorerBounds, EncloseTheScoresOfSampledValues) {
    const Scorer scorer(mixed(), columns);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> any(-2, 2), share(-1, 1), size(0, 0.8);
    for (int sample = 0; sample < 3000; ++sample) {
        std::vector<double> values(5), errors(5), inside(5);
        for (std::size_t i = 0; i < 5; ++i) {
            values[i] = any(random) + (i == 4 ? 2 : 0);
            errors[i] = size(random);
            inside[i] = values[i] + share(random) * errors[i];
        }
        const Scorer::Bounds bounds = scorer.bounds(values.data(), errors.data());
        const Score score = scorer.score(inside);
        constexpr double rounding = 1e-12;  // sums of a few doubles of size 1
        EXPECT_GE(score.miss, bounds.least - rounding);
        EXPECT_LE(score.miss, bounds.largest + rounding);
        EXPECT_TRUE(bounds.can_hold || !score.broken.empty());
        EXPECT_TRUE(!bounds.must_hold || score.broken.empty());
    }
}

TEST(ScorerBounds, OfOneAimAreReachedAtTheEndsOfItsInterval) {
    for (const Wish wish : {Wish::target, Wish::least, Wish::most}) {
        const Scorer scorer(aiming({lean, wish, 1, 0.25, 3}), columns);
        const std::vector<double> values{2.5, 0, 0, 0, 0}, errors{0.5, 0, 0, 0, 0};
        const Scorer::Bounds bounds = scorer.bounds(values.data(), errors.data());
        const double low = scorer.score({2, 0, 0, 0, 0}).miss, high = scorer.score({3, 0, 0, 0, 0}).miss;
        EXPECT_DOUBLE_EQ(bounds.least, std::min(low, high));
        EXPECT_DOUBLE_EQ(bounds.largest, std::max(low, high));
    }
}

TEST(Quantities, AreToldWithTheirPlace) {
    EXPECT_EQ(in_words(lean, columns), "lean, top, at full draw");
    EXPECT_EQ(in_words(difference, columns), "lean, top, less lean, bottom, at full draw");
    EXPECT_EQ(in_words(let_off, columns), "let-off");
}

}  // namespace
}  // namespace limbwright::models::objective_test
