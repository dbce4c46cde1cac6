#include "models/parts/limb_chain.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::limb_chain_test {
namespace {

TEST(LimbShares, OfASplitLimbAreEven) {
    EXPECT_EQ(limb_shares(testing::small_bow().limb, 4), (std::vector<double>{0, 0.25, 0.5, 0.75, 1}));
}

TEST(LimbShares, OfASolidLimbCutItAtItsFork) {
    Limb limb = testing::small_bow().limb;
    limb.kind = LimbKind::solid;
    limb.fork = 0.25 * limb.length;
    EXPECT_EQ(limb_shares(limb, 8), (std::vector<double>{0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1}));
}

TEST(LimbShares, LeaveAShortProngTwoPieces) {
    Limb limb = testing::small_bow().limb;
    limb.kind = LimbKind::solid;
    limb.fork = 0.05 * limb.length;
    const std::vector<double> shares = limb_shares(limb, 6);
    ASSERT_EQ(shares.size(), 7u);
    EXPECT_NEAR(shares[4], 0.95, 1e-15);
    EXPECT_NEAR(shares[5], 0.975, 1e-15);
}

TEST(OrientedStrip, BendsTheOtherWayAtTheBottomOnly) {
    const meshes::Strip strip{300, {{0, 24, 9, 1. / 600}, {1, 20, 5, -1. / 900}}};
    const meshes::Strip top = oriented(strip, End::top), bottom = oriented(strip, End::bottom);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_EQ(top.stations[i].curvature, strip.stations[i].curvature);
        EXPECT_EQ(bottom.stations[i].curvature, -strip.stations[i].curvature);
        EXPECT_EQ(bottom.stations[i].thickness, strip.stations[i].thickness);
    }
}

TEST(LimbRow, NamesAllItsElements) {
    LimbRow row;
    row.beams = {3, 4};
    row.shells = {{7, 5.5}, {9, 6}};
    EXPECT_EQ(row.elements(), (std::vector<std::size_t>{3, 4, 7, 9}));
}

}  // namespace
}  // namespace limbwright::models::limb_chain_test
