#include "models/states/internal_forces.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/system/assembly.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::internal_forces_test {
namespace {

using solver::Pose;
using solver::State;

/// Newton leaves residuals up to 4e-9 of the largest force, about 1000 N, and sums take a few of them [N].
constexpr double newton_accuracy = 1e-5;

using testing::even_bow, testing::uneven_bow;

/// Force of an axle on a limb's tip, world.
Vec3 on_tip(const AssembledBow& bow, End end, Flank flank, const State& state) {
    const LimbParts& limbs = bow.limbs[end == End::top ? 0 : 1];
    const LimbRow& row = limbs.rows[limbs.tip_rows[flank == Flank::left ? 0 : 1]];
    const auto& beam = static_cast<const solver::Beam&>(*bow.system.elements()[row.beams.back()]);
    return pose(row.sections.back(), state).rotation * beam.section_forces(state)[1].force;
}

TEST(PartLoads, OnACamAreBalancedByTheTwoLimbTips) {
    const auto& [strung, draw] = uneven_bow();
    for (const DrawState& s : draw.states)
        for (const End end : {End::top, End::bottom}) {
            const Vec3 tips = on_tip(strung.bow, end, Flank::left, s.state) +
                              on_tip(strung.bow, end, Flank::right, s.state);
            const Vec3 cam =
                bow_frame(strung.bow, s.state).rotation * cam_load(strung.bow, end, s.state).force;
            EXPECT_LT((cam - tips).norm(), newton_accuracy);
        }
}

TEST(PartLoads, DoNotTurnAFreeCam) {
    const auto& [strung, draw] = uneven_bow();
    for (const DrawState& s : draw.states)
        for (const End end : {End::top, End::bottom}) {
            const Vec3 axle = bow_frame(strung.bow, s.state).rotation.inverse() *
                              Vec3(s.state.at(strung.bow.axle(end).middle).rotation * Vec3(Vec3::UnitX()));
            EXPECT_NEAR(cam_load(strung.bow, end, s.state).moment.dot(axle), 0,
                        1e-4);  // N mm, of tens of thousands
        }
}

TEST(PartLoads, TipSideForcesOfBothTipsAnswerTheCamsSideForce) {
    const auto& [strung, draw] = uneven_bow();
    const State& full = draw.states.back().state;
    for (const End end : {End::top, End::bottom}) {
        const Vec3 left = full.at(strung.bow.axle(end).middle).rotation * Vec3(Vec3::UnitX());
        const Vec3 cam = bow_frame(strung.bow, full).rotation * cam_load(strung.bow, end, full).force;
        const double tips = tip_side_force(strung.bow, end, Flank::left, full) +
                            tip_side_force(strung.bow, end, Flank::right, full);
        EXPECT_GT(std::abs(cam.dot(left)), 0.1);  // there is something to answer
        EXPECT_NEAR(tips + cam.dot(left), 0, newton_accuracy);
    }
}

TEST(PartLoads, TipSideForcesOfASymmetricBowAreOpposite) {
    const auto& [strung, draw] = even_bow();
    for (const DrawState& s : draw.states)
        for (const End end : {End::top, End::bottom})
            EXPECT_NEAR(tip_side_force(strung.bow, end, Flank::left, s.state),
                        -tip_side_force(strung.bow, end, Flank::right, s.state), newton_accuracy);
}

/// Force of the cables on the guide by hand: each tension along both of its straight runs, riser's axes.
Vec3 deviations(const testing::Drawn& d) {
    const State& full = d.full_state();
    Vec3 sum = Vec3::Zero();
    for (std::size_t i = 0; i < 2; ++i) {
        const solver::Cable& cable = d.bow().cable(d.bow().cables[i]);
        const Vec3 eye = pose(*d.bow().guide.eyes[i], full).position;
        const std::vector<Vec3> line = cable.path(full).line;
        for (std::size_t k = 1; k + 1 < line.size(); ++k)
            if ((line[k] - eye).norm() < 1e-9)
                sum += cable.tension(full) *
                       ((line[k - 1] - eye).normalized() + (line[k + 1] - eye).normalized());
    }
    return bow_frame(d.bow(), full).rotation.inverse() * sum;
}

TEST(PartLoads, OnTheGuideAreTheSumOfTheCablesDeviations) {
    const Vec3 even = guide_force(even_bow().bow(), even_bow().full_state());
    EXPECT_LT((deviations(even_bow()) - even).norm(), newton_accuracy);
    const Vec3 uneven = guide_force(uneven_bow().bow(), uneven_bow().full_state());
    const double tension = uneven_bow().full("tension, cable of the top take-up");
    // A run that leaves its groove's plane by β pulls along its own way of least length in that plane, off
    // the straight line by ρ (1 − cos β)/l: with β up to 0.07 and ρ/l up to 0.2, 5e-4 of the tension for each
    // of four runs.
    EXPECT_LT((deviations(uneven_bow()) - uneven).norm(), 4 * 5e-4 * tension);
    EXPECT_GT(uneven.y(), 10);  // cables held to the right pull to the left
}

TEST(PartLoads, OnTheGuideDoNotPushTheSlideAlongItsRod) {
    const auto& [strung, draw] = uneven_bow();
    const State& full = draw.states.back().state;
    const Vec3 force = bow_frame(strung.bow, full).rotation * guide_force(strung.bow, full);
    const Vec3 rod = pose(*strung.bow.guide.eyes[0], full).rotation * Vec3(Vec3::UnitX());
    EXPECT_NEAR(force.dot(rod), 0, newton_accuracy);
}

TEST(PartLoads, OnTheGuideOfASymmetricBowAreNotSideways) {
    const auto& [strung, draw] = even_bow();
    EXPECT_NEAR(guide_force(strung.bow, draw.states.back().state).y(), 0, newton_accuracy);
}

TEST(PartLoads, OnNoGuideAreZero) {
    Bow bow = testing::small_bow();
    bow.guide.kind = GuideKind::none;
    const StrungBow s = testing::strung(bow);
    EXPECT_EQ(guide_force(s.bow, s.brace.state), Vec3(0, 0, 0));
}

/// Statics of one limb of a symmetric bow: at a section the axle's force F on the tip, an arm away, gives
/// M = |arm × F| flatwise and N = F·t along; strain = |N|/(E w t) + 6 M/(E w t²). The tip turns freely.
TEST(PartLoads, LargestStrainIsThatOfTheAxlesForceOnItsArm) {
    const auto& [strung, draw] = even_bow();
    const State& full = draw.states.back().state;
    const LimbRow& row = strung.bow.limbs[0].rows[0];
    const Vec3 force = on_tip(strung.bow, End::top, Flank::left, full);
    const Vec3 tip = pose(row.sections.back(), full).position;
    double largest = 0;
    for (std::size_t i = 0; i < row.sections.size(); ++i) {
        const Pose section = pose(row.sections[i], full);
        const double moment = (tip - section.position).cross(force).y();
        const double normal = force.dot(section.rotation * Vec3(Vec3::UnitX()));
        const double w = row.stations[i].width, t = row.stations[i].thickness, E = row.stiffness.moduli.young;
        largest = std::max(largest, std::abs(normal) / (E * w * t) + 6 * std::abs(moment) / (E * w * t * t));
    }
    // The sideways share of the force bends the limb edgewise, which the hand value leaves out: a few per
    // cent.
    EXPECT_NEAR(largest_strain(strung.bow, row, full) / largest, 1, 0.03);
    EXPECT_GT(largest, 0.005);
}

/// A section strained by hand: a limb's node moved along its axis by e L gives the strain e, nothing else.
TEST(PartLoads, StrainOfAStretchedLimbIsItsElongation) {
    const AssembledBow bow = assemble(testing::small_bow());
    const LimbRow& row = bow.limbs[0].rows[0];
    State state = bow.rest;
    const double step = (row.rest[1].position - row.rest[0].position).norm();
    const Vec3 along = row.rest[0].rotation * Vec3(Vec3::UnitX());
    for (std::size_t i = 1; i < row.sections.size(); ++i) {
        if (row.sections[i].node.value < 0) continue;
        state.at(row.sections[i].node).position += 1e-3 * step * along;
    }
    const double mean_area = 0.5 * (1 / row.stations[0].thickness + 1 / row.stations[1].thickness);
    // Only the first beam is stretched; its force is one, so the strain is larger at its thinner end.
    const double expected = 1e-3 / row.stations[1].thickness / mean_area;
    EXPECT_NEAR(largest_strain(bow, row, state) / expected, 1, 1e-3);  // mean of 1/t by two ends
}

/// The axle carries the cam between two limb tips: the moment under the cam is the tip's force on its arm
/// less what the tip itself twists back.
TEST(PartLoads, AxleStressIsThatOfTheTipsForceOnItsArm) {
    const auto& [strung, draw] = even_bow();
    const State& full = draw.states.back().state;
    const LimbRow& row = strung.bow.limbs[0].rows[0];
    const auto& beam = static_cast<const solver::Beam&>(*strung.bow.system.elements()[row.beams.back()]);
    const Pose tip = pose(row.sections.back(), full);
    const Vec3 middle = full.at(strung.bow.axles[0].middle).position;
    const Vec3 force = on_tip(strung.bow, End::top, Flank::left, full);
    const Vec3 twist = tip.rotation * beam.section_forces(full)[1].moment;
    const Vec3 about_cam = (tip.position - middle).cross(force) + twist;  // of the axle on the limb
    const double d = strung.bow.bow.axle_top.diameter;
    const double under_cam = 32 * std::hypot(about_cam.x(), about_cam.z()) / (std::numbers::pi * d * d * d);
    const double at_tip = 32 * std::hypot(twist.x(), twist.z()) / (std::numbers::pi * d * d * d);
    EXPECT_NEAR(axle_stress(strung.bow, End::top, full) / std::max(under_cam, at_tip), 1, 1e-6);
}

TEST(PartLoads, ClearanceIsTheLeastDistanceOfAnyCableToTheArrowsLine) {
    const auto& [strung, draw] = uneven_bow();
    const State& full = draw.states.back().state;
    const Vec3 nock = pose(strung.bow.nock_frame, full).position;
    const Vec3 rest = bow_frame(strung.bow, full) * strung.bow.bow.shooter.rest;
    double least = HUGE_VAL;
    for (const CablePart& part : strung.bow.cables) {
        const std::vector<Vec3> line = strung.bow.cable(part).path(full).line;
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            for (double u = 0; u <= 1; u += 1e-3) {
                const Vec3 p = line[i] + u * (line[i + 1] - line[i]);
                const double along =
                    std::clamp((p - nock).dot(rest - nock) / (rest - nock).squaredNorm(), 0., 2.);
                least = std::min(least, (p - nock - along * (rest - nock)).norm());
            }
    }
    // Sampled at every half millimetre: the least of a smooth distance of tens of millimetres is 2e-3 mm off.
    EXPECT_NEAR(arrow_clearance(strung.bow, full), least - 11 - 1.2, 5e-3);
}

TEST(PartLoads, ClearanceOfCablesInTheArrowsPlaneIsMinusBothRadii) {
    const auto& [strung, draw] = even_bow();
    EXPECT_NEAR(arrow_clearance(strung.bow, draw.states.back().state), -11 - 1.2, 1e-9);
}

/// All outer forces pass through the pivot but the hand's torque τ about Z, which the nocking point answers
/// sideways with F_y = τ/draw: about the riser's X, tilted by the pitch, that leaves τ X_z.
TEST(PartLoads, RollTorqueIsWhatTheHandsYawTorqueLeavesAboutTheTiltedRiser) {
    for (const double torque : {0., 2000.}) {
        Bow bow = testing::small_uneven_bow();
        bow.layout.hand_yaw_torque = torque;
        const testing::Drawn d = testing::drawn(bow);
        const Vec3 forward = bow_frame(d.bow(), d.full_state()).rotation * Vec3(Vec3::UnitX());
        EXPECT_NEAR(roll_reaction(d.bow(), d.full_state()), torque * forward.z(), 1e-4);  // N mm
        EXPECT_GT(std::abs(forward.z()), 1e-3);
    }
}

}  // namespace
}  // namespace limbwright::models::internal_forces_test
