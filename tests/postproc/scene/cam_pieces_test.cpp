#include "postproc/scene/cam_pieces.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "models/bow/spacers.hpp"
#include "tests/support/piece_check.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::cam_pieces_test {
namespace {

using testing::extent;
using testing::mean_point;
using testing::names_of;
using testing::piece_of;

const models::AssembledBow& uneven() {
    static const models::AssembledBow bow = assemble(testing::small_uneven_bow());
    return bow;
}

/// Middle of a round track, in the world.
Vec3 centre(const models::AssembledBow& bow, const solver::State& state, const std::string& track) {
    return mean_point(piece_of(track_pieces(bow, state), track));
}

Vec3 axle_middle(const models::AssembledBow& bow, models::End end) {
    return bow.rest.at(bow.axle(end).middle).position;
}

TEST(CamPieces, ACrossedBowShowsThreeTracksOnEachCam) {
    EXPECT_EQ(names_of(track_pieces(uneven(), uneven().rest)),
              (std::vector<std::string>{"cam bottom let-out track", "cam bottom string track",
                                        "cam bottom take-up track", "cam top let-out track",
                                        "cam top string track", "cam top take-up track"}));
}

TEST(CamPieces, AYokedBowHasNoLetOuts) {
    models::Bow bow = testing::small_bow();
    bow.cables.system = models::CableSystem::yoked;
    bow.cables.yoke_leg = 120;
    const models::AssembledBow assembled = assemble(bow);
    EXPECT_EQ(names_of(track_pieces(assembled, assembled.rest)),
              (std::vector<std::string>{"cam bottom string track", "cam bottom take-up track",
                                        "cam top string track", "cam top take-up track"}));
}

TEST(CamPieces, ASingleCamBowShowsItsIdler) {
    models::Bow bow = testing::small_bow();
    bow.cables.system = models::CableSystem::single_cam;
    bow.cables.yoke_leg = 120;
    bow.cam_top.take_up.reset();
    bow.cam_top.let_out.reset();
    const models::AssembledBow assembled = assemble(bow);
    EXPECT_EQ(names_of(track_pieces(assembled, assembled.rest)),
              (std::vector<std::string>{"cam bottom let-out track", "cam bottom string track",
                                        "cam bottom take-up track", "idler string track"}));
    EXPECT_NO_THROW((void)piece_of(hub_pieces(assembled, assembled.rest), "idler hub"));
}

TEST(CamPieces, ARoundTrackStandsWhereItIsDrawn) {
    const Vec3 from_axle =
        centre(uneven(), uneven().rest, "cam top string track") - axle_middle(uneven(), models::End::top);
    // Drawn at (11, −19) from the axle, 2 mm left of the hub's middle.
    EXPECT_LT((from_axle - Vec3(11, 2, -19)).norm(), 1e-9);
    const Piece track = piece_of(track_pieces(uneven(), uneven().rest), "cam top string track");
    EXPECT_NEAR(extent(track, 0).high - extent(track, 0).low, 2 * 50, 1e-9);
    EXPECT_NEAR(extent(track, 2).high - extent(track, 2).low, 2 * 50, 1e-9);
}

TEST(CamPieces, ATrackTurnsWithItsCamCounterClockwiseAsSeenFromTheRight) {
    solver::State turned = uneven().rest;
    turned.at(*uneven().axle(models::End::top).turn) = 0.5 * std::numbers::pi;
    const Vec3 from_axle =
        centre(uneven(), turned, "cam top string track") - axle_middle(uneven(), models::End::top);
    EXPECT_LT((from_axle - Vec3(19, 2, 11)).norm(), 1e-9);  // a quarter turn from U toward V
}

TEST(CamPieces, AnOpenTrackIsClosedByAStraightEdge) {
    models::Bow bow = testing::small_bow();
    // A half circle of radius 50 about the axle, above it.
    const std::vector<double> flat(5, 0.0);
    bow.cam_top.string.groove =
        std::make_shared<const solver::Groove>(solver::Groove::open(50, {0, 0}, 0, std::numbers::pi, flat));
    const models::AssembledBow assembled = assemble(bow);
    const Piece track = piece_of(track_pieces(assembled, assembled.rest), "cam top string track");
    const Vec3 axle = axle_middle(assembled, models::End::top);
    EXPECT_NEAR(extent(track, 2).low - axle.z(), 0, 1e-9);
    EXPECT_NEAR(extent(track, 2).high - axle.z(), 50, 1e-9);
    EXPECT_NEAR(extent(track, 0).high - extent(track, 0).low, 100, 1e-9);
}

TEST(CamPieces, HubAndSpacersFillTheGapBetweenTheLimbTips) {
    const std::vector<Piece> pieces = hub_pieces(uneven(), uneven().rest);
    // Top: 3 mm of spacers left, 5 mm right, 20 mm of hub: 28 mm, the whole gap.
    const double half_gap = 0.5 * models::tip_gap(uneven().bow);
    EXPECT_NEAR(extent(piece_of(pieces, "spacer top left 2"), 1).high, half_gap, 1e-9);
    EXPECT_NEAR(extent(piece_of(pieces, "spacer top right 2"), 1).low, -half_gap, 1e-9);
    const testing::Extent hub = extent(piece_of(pieces, "cam top hub"), 1);
    EXPECT_NEAR(extent(piece_of(pieces, "spacer top left 1"), 1).low, hub.high, 1e-9);
    EXPECT_NEAR(hub.high - hub.low, 20, 1e-9);
}

}  // namespace
}  // namespace limbwright::postproc::cam_pieces_test
