#include "models/matching/calibrated_bow.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::calibrated_bow_test {
namespace {

/// The small bow with four limbs of their own numbers.
Bow labelled() {
    Bow bow = testing::small_bow();
    bow.layout.pairing = {51, 49, 50, 52};
    return bow;
}

/// One number off by so much.
Corrections off(const std::string& key, double change) {
    const Bow bow = labelled();
    Corrections made{bow, match_parameters(bow), {}, {}};
    made.change = solver::VecX::Zero(static_cast<Eigen::Index>(made.parameters.size()));
    const auto place = std::ranges::find(made.parameters, key, &MatchParameter::key);
    made.change[place - made.parameters.begin()] = change;
    return made;
}

TEST(Corrections, OfALimbGoWithItToAnotherPocket) {
    Bow other = labelled();
    other.layout.pairing = {49, 51, 52, 50};
    EXPECT_EQ(off("limb_number_top_left", 0.25).applied(other).layout.pairing.top_right, 51.25);
    EXPECT_EQ(off("limb_number_top_left", 0.25).applied(other).layout.pairing.top_left, 49);
}

TEST(Corrections, OfALimbThatIsOutAreNobodys) {
    Bow other = labelled();
    other.layout.pairing.top_left = 55;
    const Pairing there = off("limb_number_top_left", 0.25).applied(other).layout.pairing;
    EXPECT_EQ(there.top_left, 55);
    EXPECT_EQ(there.bottom_right, 52);
}

TEST(Corrections, OfASettingAddToWhateverItIsSetTo) {
    Bow other = labelled();
    other.layout.guide_lateral = -3;
    EXPECT_EQ(off("guide_lateral", 0.5).applied(other).layout.guide_lateral, -2.5);
}

TEST(Partners, OfLimbsWithOneLabelStayWithTheirPockets) {
    const Bow bow = testing::small_bow();
    const std::vector<MatchParameter> parameters = match_parameters(bow);
    const std::vector<int> places = partners(bow, parameters, bow, parameters);
    for (std::size_t i = 0; i < places.size(); ++i) EXPECT_EQ(places[i], static_cast<int>(i));
}

TEST(Partners, AreNotThereForALimbThatComesIn) {
    Bow other = labelled();
    other.layout.pairing.top_left = 55;
    const std::vector<MatchParameter> now = match_parameters(labelled()), then = match_parameters(other);
    const std::vector<int> places = partners(other, then, labelled(), now);
    EXPECT_EQ(std::ranges::count(places, -1), 1);
    const auto stranger = std::ranges::find(then, "limb_number_top_left", &MatchParameter::key);
    EXPECT_EQ(places[static_cast<std::size_t>(stranger - then.begin())], -1);
}

}  // namespace
}  // namespace limbwright::models::calibrated_bow_test
