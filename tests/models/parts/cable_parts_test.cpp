#include "models/parts/cable_parts.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "models/parts/assembled_bow.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::cable_parts_test {
namespace {

using solver::Pose;
using solver::State;

Vec3 eye(const AssembledBow& bow, std::size_t i, const State& state) {
    return pose(*bow.guide.eyes[i], state).position;
}

/// Change of a cable's length per turn of a cam in the sense of the draw, all else held.
double paid_in(const AssembledBow& bow, const CablePart& part, End end) {
    const AxleParts& axle = bow.axle(end);
    State back = bow.rest, on = bow.rest;
    back.at(*axle.turn) -= axle.draw_sense * 1e-4;
    on.at(*axle.turn) += axle.draw_sense * 1e-4;
    return (bow.cable(part).length(on) - bow.cable(part).length(back)) / 2e-4;
}

TEST(Guide, HoldsItsEyesAsideByTheSpacingTheOneOfTheTopTakeUpLeft) {
    Bow bow = testing::small_bow();
    bow.guide.position.y() = -20;
    bow.guide.spacing = 6;
    const AssembledBow assembled = assemble(bow);
    EXPECT_LT((eye(assembled, 0, assembled.rest) - Vec3(-110, -17, 85)).norm(), 1e-12);
    EXPECT_LT((eye(assembled, 1, assembled.rest) - Vec3(-110, -23, 85)).norm(), 1e-12);
}

TEST(Guide, MovesLeftByItsSetting) {
    Bow bow = testing::small_bow();
    bow.layout.guide_lateral = 3;
    const AssembledBow assembled = assemble(bow);
    EXPECT_LT((eye(assembled, 0, assembled.rest) - Vec3(-110, 3, 85)).norm(), 1e-12);
}

TEST(Guide, TurnsItsLateralAxisFromTheTargetToTheLeft) {
    Bow bow = testing::small_bow();
    bow.guide.spacing = 6;
    bow.layout.guide_angle = 0.2;
    const AssembledBow assembled = assemble(bow);
    const Vec3 across = eye(assembled, 0, assembled.rest) - eye(assembled, 1, assembled.rest);
    EXPECT_LT((across - 6 * Vec3(-std::sin(0.2), std::cos(0.2), 0)).norm(), 1e-12);
}

TEST(Guide, SlidesAlongItsRod) {
    const AssembledBow bow = assemble(testing::small_bow());
    State state = bow.rest;
    state.at(*bow.guide.slide) = 7;
    EXPECT_LT((eye(bow, 0, state) - Vec3(-103, 0, 85)).norm(), 1e-12);
}

TEST(Guide, OfRollersStaysWhereItIs) {
    Bow bow = testing::small_bow();
    bow.guide.kind = GuideKind::rollers;
    const AssembledBow assembled = assemble(bow);
    EXPECT_FALSE(assembled.guide.slide);
    EXPECT_TRUE(assembled.guide.eyes[0]);
}

TEST(Guide, ABendingRodCarriesTheSlideAtItsEnd) {
    Bow bow = testing::small_uneven_bow();
    bow.guide.kind = GuideKind::bending_rod;
    bow.guide.rod_diameter = 9;
    bow.guide.rod_material = {60000, 24000};
    const AssembledBow assembled = assemble(bow);
    EXPECT_LT((eye(assembled, 0, assembled.rest) - Vec3(-110, -17, 85)).norm(), 1e-10);
    const Vec3 foot = pose(assembled.guide.rod.front(), assembled.rest).position;
    EXPECT_LT((foot - Vec3(-110 + bow.guide.rod_length, -20, 85)).norm(), 1e-10);
    // Unloaded it lies straight and carries nothing.
    for (const std::size_t beam : assembled.guide.rod_beams)
        EXPECT_LT(assembled.system.elements()[beam]->energy(assembled.rest), 1e-18);
}

TEST(Guide, OfNoKindHasNoEyes) {
    Bow bow = testing::small_bow();
    bow.guide.kind = GuideKind::none;
    EXPECT_FALSE(assemble(bow).guide.eyes[0]);
}

TEST(Track, StringAndLetOutPayOutWithTheDrawAndTheTakeUpWindsIn) {
    const AssembledBow bow = assemble(testing::small_bow());
    EXPECT_LT(paid_in(bow, bow.string[0], End::top), 0);
    EXPECT_LT(paid_in(bow, bow.string[1], End::bottom), 0);
    EXPECT_GT(paid_in(bow, bow.cables[0], End::top), 0);     // its take-up
    EXPECT_LT(paid_in(bow, bow.cables[0], End::bottom), 0);  // its let-out
    EXPECT_GT(paid_in(bow, bow.cables[1], End::bottom), 0);
    EXPECT_LT(paid_in(bow, bow.cables[1], End::top), 0);
}

/// From the nocking point straight to a circle of radius r whose centre is d away, and round it to the post:
///     ℓ = √(d² − r²) + r (ψ − anchor),   ψ = direction of the nocking point − acos(r/d).
TEST(Track, AStringRunsStraightToItsRoundGrooveAndRoundItToThePost) {
    const Bow bow = testing::small_bow();
    const AssembledBow assembled = assemble(bow);
    const Pose cam = pose(assembled.axles[0].cam, assembled.rest);
    const Vec3 p = cam.inverse() * pose(assembled.nock_frame, assembled.rest).position;
    const Vec2 to_nock = p.head<2>() - bow.cam_top.string.circle->centre;
    const double r = bow.cam_top.string.circle->radius, d = to_nock.norm();
    double psi = std::atan2(to_nock.y(), to_nock.x()) - std::acos(r / d);
    while (psi < 0) psi += 2 * std::numbers::pi;  // leaves on the archer's side, near π
    const double length = std::sqrt(d * d - r * r) + r * (psi - bow.cam_top.string.anchor);
    EXPECT_NEAR(assembled.cable(assembled.string[0]).length(assembled.rest), length, 1e-10);
}

TEST(Yoke, LegsAreTautFromTheStartAndEndAtBothEndsOfTheOtherAxle) {
    Bow bow = testing::small_bow();
    bow.cables.system = CableSystem::yoked;
    bow.cables.yoke_leg = 110;
    const AssembledBow assembled = assemble(bow);
    ASSERT_EQ(assembled.cables.size(), 6u);
    for (const std::size_t leg : {1u, 2u}) {
        const solver::Cable& cable = assembled.cable(assembled.cables[leg]);
        EXPECT_EQ(assembled.cables[leg].kind, CableKind::yoke_leg);
        EXPECT_EQ(cable.data().natural_length, 110);
        EXPECT_GT(cable.length(assembled.rest), 110);
        const Vec3 end = pose(cable.contacts().back().frame, assembled.rest).position;
        EXPECT_LT((end - pose(assembled.axles[1].ends[leg - 1], assembled.rest).position).norm(), 1e-12);
    }
}

TEST(Yoke, ATwistOfOneLegShortensItsRestLength) {
    Bow bow = testing::small_bow();
    bow.cables.system = CableSystem::yoked;
    bow.cables.yoke_leg = 110;
    bow.layout.twist_yoke_left[0] = 3;
    const AssembledBow assembled = assemble(bow);
    EXPECT_DOUBLE_EQ(assembled.cable(assembled.cables[1]).data().natural_length, 110 - 3 * 0.2);
    EXPECT_DOUBLE_EQ(assembled.cable(assembled.cables[2]).data().natural_length, 110);
}

}  // namespace
}  // namespace limbwright::models::cable_parts_test
