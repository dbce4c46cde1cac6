#include "models/study/pairings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <set>

namespace limbwright::models::pairings_test {
namespace {

using Numbers = std::array<double, 4>;

Numbers in_order(const Pairing& p) {
    return {p.top_left, p.top_right, p.bottom_left, p.bottom_right};
}

std::set<Numbers> distinct(const std::vector<Pairing>& pairings) {
    std::set<Numbers> seen;
    for (const Pairing& pairing : pairings) seen.insert(in_order(pairing));
    return seen;
}

std::vector<double> different(int count) {
    std::vector<double> numbers(count);
    std::iota(numbers.begin(), numbers.end(), 40.0);
    return numbers;
}

TEST(Pairings, FourDifferentLimbsGive24) {
    const std::vector<Pairing> all = pairings({52, 51, 50, 49}, LimbKind::split);
    EXPECT_EQ(all.size(), 24u);
    EXPECT_EQ(distinct(all).size(), 24u);
}

TEST(Pairings, TwoAlikeOfFourGive12Of24Arrangements) {
    EXPECT_EQ(distinct(pairings({51, 49, 50, 50}, LimbKind::split)).size(), 12u);
    EXPECT_EQ(pairings({51, 49, 50, 50}, LimbKind::split).size(), 12u);
    EXPECT_EQ(count_arrangements(4, LimbKind::split), 24);
}

TEST(Pairings, TwoPairsGiveSixAndFourAlikeGiveOne) {
    EXPECT_EQ(pairings({50, 49, 50, 49}, LimbKind::split).size(), 6u);
    EXPECT_EQ(pairings({50, 50, 50, 50}, LimbKind::split).size(), 1u);
}

TEST(Pairings, AStockOfTwelveDifferentLimbsGives11880) {
    const std::vector<Pairing> all = pairings(different(12), LimbKind::split);
    EXPECT_EQ(all.size(), 11880u);  // 12 · 11 · 10 · 9
    EXPECT_EQ(distinct(all).size(), 11880u);
    EXPECT_EQ(count_arrangements(12, LimbKind::split), 11880);
}

TEST(Pairings, ComeInRisingOrderWhateverTheOrderInHand) {
    std::vector<Numbers> found;
    for (const Pairing& pairing : pairings({50, 52, 49, 51, 50}, LimbKind::split))
        found.push_back(in_order(pairing));
    EXPECT_TRUE(std::ranges::is_sorted(found));
    EXPECT_EQ(found.front(), (Numbers{49, 50, 50, 51}));
}

TEST(Pairings, NeverTakeALimbMoreOftenThanItIsInHand) {
    const std::vector<double> stock{48, 50, 50, 51, 51, 51};
    for (const Pairing& pairing : pairings(stock, LimbKind::split))
        for (const double number : stock) {
            const Numbers taken = in_order(pairing);
            EXPECT_LE(std::ranges::count(taken, number), std::ranges::count(stock, number));
        }
}

TEST(Pairings, ASolidLimbCountsAsLeftAndRightTogether) {
    const std::vector<Pairing> all = pairings({51, 49, 50}, LimbKind::solid);
    EXPECT_EQ(all.size(), 6u);  // 3 · 2
    EXPECT_EQ(in_order(all.front()), (Numbers{49, 49, 50, 50}));
    EXPECT_EQ(count_arrangements(3, LimbKind::solid), 6);
}

TEST(Pairings, FewerLimbsThanPocketsGiveNone) {
    EXPECT_TRUE(pairings({50, 51, 52}, LimbKind::split).empty());
    EXPECT_EQ(count_pairings({50, 51, 52}, LimbKind::split), 0);
    EXPECT_EQ(count_arrangements(3, LimbKind::split), 0);
}

TEST(Pairings, TheirCountIsThatOfTheList) {
    const std::vector<std::vector<double>> stocks{{50, 50, 50, 50},         {51, 49, 50, 50},
                                                  {48, 50, 50, 51, 51, 51}, {47, 47, 48, 48, 49, 49, 50, 50},
                                                  {50, 50, 50, 50, 50, 51}, different(9)};
    for (const std::vector<double>& stock : stocks)
        for (const LimbKind kind : {LimbKind::split, LimbKind::solid})
            EXPECT_EQ(count_pairings(stock, kind), pairings(stock, kind).size()) << stock.size();
}

}  // namespace
}  // namespace limbwright::models::pairings_test
