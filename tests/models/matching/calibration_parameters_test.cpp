#include "models/matching/calibration_parameters.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <stdexcept>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::calibration_parameters_test {
namespace {

using limbwright::testing::small_bow;

MatchParameter parameter(const Bow& bow, const std::string& key) {
    for (const MatchParameter& p : match_parameters(bow))
        if (p.key == key) return p;
    throw std::runtime_error("no parameter " + key);
}

bool has(const Bow& bow, const std::string& key) {
    const auto all = match_parameters(bow);
    return std::ranges::find(all, key, &MatchParameter::key) != all.end();
}

Bow with_natural_lengths() {
    Bow bow = small_bow();
    bow.cables.string_above = 650;
    bow.cables.string_below = 690;
    bow.cables.cables = {900, 901};
    return bow;
}

TEST(MatchParameters, EachSetsItsOwnNumberAndNoOther) {
    Bow with_height = small_bow(), with_rate = small_bow();
    with_height.brace.brace_height = 178;
    with_rate.limb.spring_rate = 20;
    for (const Bow& bow : {small_bow(), with_natural_lengths(), with_height, with_rate}) {
        const std::vector<MatchParameter> all = match_parameters(bow);
        const solver::VecX before = values_of(bow, all);
        for (std::size_t i = 0; i < all.size(); ++i) {
            Bow changed = bow;
            const double wanted = before[static_cast<Eigen::Index>(i)] + all[i].sigma;
            all[i].set(changed, wanted);
            const solver::VecX after = values_of(changed, all);
            for (std::size_t j = 0; j < all.size(); ++j)
                EXPECT_EQ(after[static_cast<Eigen::Index>(j)],
                          j == i ? wanted : before[static_cast<Eigen::Index>(j)])
                    << all[i].name << " and " << all[j].name;
        }
    }
}

TEST(MatchParameters, KeysAreOfOneKindEach) {
    std::set<std::string> keys;
    for (const MatchParameter& p : match_parameters(small_bow())) {
        EXPECT_TRUE(keys.insert(p.key).second) << p.key;
        EXPECT_GT(p.sigma, 0) << p.key;
        EXPECT_GT(p.step, 0) << p.key;
    }
}

TEST(MatchParameters, ShearModulusGoesAlongWithTheLimbsStiffness) {
    Bow bow = small_bow();
    parameter(bow, "limb_stiffness").set(bow, 1.1 * bow.limb.material.along);
    EXPECT_DOUBLE_EQ(bow.limb.material.shear, 1.1 * 4200);
}

TEST(MatchParameters, AMeasuredSpringRateStandsForTheModuli) {
    Bow bow = small_bow();
    bow.limb.spring_rate = 20;
    EXPECT_EQ(parameter(bow, "limb_stiffness").get(bow), 20);
    EXPECT_DOUBLE_EQ(parameter(bow, "limb_stiffness").sigma, 20 * 0.05);
}

TEST(MatchParameters, LengthsAreMatchedWhereTheBowGivesThemAndBraceWhereNot) {
    EXPECT_TRUE(has(small_bow(), "axle_to_axle"));
    EXPECT_FALSE(has(small_bow(), "string_above"));
    EXPECT_FALSE(has(with_natural_lengths(), "axle_to_axle"));
    EXPECT_TRUE(has(with_natural_lengths(), "cable_second"));
}

TEST(MatchParameters, ABraceHeightTakesThePlaceOfTheBottomCamsMark) {
    Bow bow = small_bow();
    EXPECT_TRUE(has(bow, "cam_mark_bottom"));
    EXPECT_FALSE(has(bow, "brace_height"));
    bow.brace.brace_height = 178;
    EXPECT_FALSE(has(bow, "cam_mark_bottom"));
    EXPECT_TRUE(has(bow, "brace_height"));
}

TEST(MatchParameters, WhatChangesNothingIsNoParameter) {
    Bow bow = small_bow();
    EXPECT_TRUE(has(bow, "guide_lateral"));
    EXPECT_TRUE(has(bow, "bolt_top"));
    bow.guide.kind = GuideKind::none;
    bow.pocket_top.angle_per_turn = 0;
    EXPECT_FALSE(has(bow, "guide_lateral"));
    EXPECT_FALSE(has(bow, "bolt_top"));
}

TEST(MatchParameters, BothPocketsTurnByTheSameAngle) {
    Bow bow = small_bow();
    bow.pocket_bottom.angle += 0.01;
    const double top = bow.pocket_top.angle, bottom = bow.pocket_bottom.angle;
    parameter(bow, "pocket_angle").set(bow, top + 0.02);
    EXPECT_DOUBLE_EQ(bow.pocket_bottom.angle, bottom + 0.02);
}

TEST(MatchParameters, ASolidLimbHasOneNumberForLeftAndRight) {
    Bow bow = small_bow();
    bow.limb.kind = LimbKind::solid;
    parameter(bow, "limb_number_top").set(bow, 52);
    EXPECT_EQ(bow.layout.pairing.top_left, 52);
    EXPECT_EQ(bow.layout.pairing.top_right, 52);
    EXPECT_FALSE(has(bow, "limb_number_top_left"));
}

TEST(MatchParameters, ValuesGoIntoTheBowAndComeOutAgain) {
    const std::vector<MatchParameter> all = match_parameters(small_bow());
    solver::VecX values = values_of(small_bow(), all);
    for (std::size_t i = 0; i < all.size(); ++i) values[static_cast<Eigen::Index>(i)] += 0.3 * all[i].sigma;
    EXPECT_EQ(values_of(with_values(small_bow(), all, values), all), values);
}

}  // namespace
}  // namespace limbwright::models::calibration_parameters_test
