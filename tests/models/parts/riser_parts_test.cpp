#include "models/parts/riser_parts.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "solver/elements/spring.hpp"
#include "solver/system/assembly.hpp"
#include "tests/support/found.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::riser_parts_test {
namespace {

using solver::Pose;
using solver::Rotation;
using solver::State;

const Pose& rest_of(const RiserParts& parts, std::size_t i) {
    return parts.rest[i];
}

struct Built {
    Builder builder;
    RiserParts parts;
    explicit Built(const Riser& riser, const std::vector<double>& heights = {})
        : parts(add_riser(riser, heights, builder)) {}
};

double energy_when_bent(const Riser& riser) {
    const Built built(riser);
    State bent = built.builder.rest();
    bent.nodes.back().position += Vec3(0.3, 0.5, 0.1);
    return total_energy(built.builder.system(), bent);
}

TEST(RiserParts, KeepEveryStationAndStandOneAtThePivotsHeight) {
    Riser riser = testing::small_bow().riser;
    riser.stations = {{{165, 0, -300}, 46, 34}, {{100, 0, -90}, 30, 40}, {{165, 0, 300}, 46, 34}};
    const Built built(riser);
    for (const double z : {-300., -90., 0., 300.})
        EXPECT_TRUE(std::any_of(built.parts.rest.begin(), built.parts.rest.end(), [&](const Pose& X) {
            return std::abs(X.position.z() - z) < 1e-12;
        })) << z;
    EXPECT_EQ(built.parts.beams.size() + 1, built.parts.sections.size());
}

TEST(RiserParts, StandASectionWhereSomethingIsMounted) {
    const std::vector<double> heights{-260, 85, 290};
    const Built built(testing::small_uneven_bow().riser, heights);
    for (const double z : heights) {
        const solver::Frame mounted = built.parts.at({{}, Vec3(0, 0, z)});
        EXPECT_NEAR(built.builder.rest().at(mounted.node).position.z(), z, 1e-12);
    }
}

TEST(RiserParts, LookUpTheLineAndToTheLeft) {
    const Built built(testing::small_uneven_bow().riser);
    for (std::size_t i = 0; i < built.parts.rest.size(); ++i) {
        const Vec3 up = rest_of(built.parts, i).rotation * Vec3(Vec3::UnitX());
        const Vec3 left = rest_of(built.parts, i).rotation * Vec3(Vec3::UnitY());
        EXPECT_GT(up.z(), 0.8);
        EXPECT_GT(left.y(), 0.98);  // leans with the sight window's slant only
    }
}

TEST(RiserParts, TurnTheGripAboutThePivotYawFirstThenPitch) {
    Built built(testing::small_bow().riser);
    State state = built.builder.rest();
    state.at(built.parts.yaw) = 0.3;
    state.at(built.parts.pitch) = -0.2;
    const Pose grip = pose(built.parts.grip, state);
    EXPECT_EQ(grip.position, Vec3(0, 0, 0));
    // Yaw about Z leaves the riser's lateral axis level; a pitch of −0.2 about it lifts the riser's X.
    const Vec3 left = grip.rotation * Vec3(Vec3::UnitY()), forward = grip.rotation * Vec3(Vec3::UnitX());
    EXPECT_LT((left - Vec3(-std::sin(0.3), std::cos(0.3), 0)).norm(), 1e-15);
    EXPECT_NEAR(forward.z(), std::sin(0.2), 1e-15);
}

TEST(RiserParts, HoldAFrameWhereItWasAskedFor) {
    const Built built(testing::small_uneven_bow().riser);
    const Pose wanted{solver::exp<double>(Vec3(0.1, 0.2, -0.4)), Vec3(-110, -20, 85)};
    const Pose got = pose(built.parts.at(wanted), built.builder.rest());
    EXPECT_LT((got.position - wanted.position).norm(), 1e-12);
    EXPECT_LT(solver::log(Rotation(got.rotation * wanted.rotation.inverse())).norm(), 1e-14);
}

TEST(RiserParts, HoldAHingedFrameAtTheGripToo) {
    Built built(testing::small_bow().riser);
    const solver::ScalarId slide = built.builder.add_scalar();
    const solver::Frame eye =
        built.parts.at({{}, Vec3(-110, -20, 2)}).then({solver::JointKind::slide, Vec3::UnitX(), slide, {}});
    State state = built.builder.rest();
    state.at(slide) = 5;
    EXPECT_LT((pose(eye, state).position - Vec3(-105, -20, 2)).norm(), 1e-12);
}

TEST(RiserParts, AreStressFreeAtRest) {
    const Built built(testing::small_uneven_bow().riser);
    EXPECT_LT(total_energy(built.builder.system(), built.builder.rest()), 1e-18);
}

TEST(RiserParts, AreSofterInProportionToTheirFill) {
    Riser full = testing::small_bow().riser, half = full;
    full.fill = 1;
    half.fill = 0.5;
    EXPECT_NEAR(energy_when_bent(half) / energy_when_bent(full), 0.5, 1e-12);
}

/// How far the upper pocket gives way to 100 N in a direction, the grip held, along it.
double give(Builder builder, const RiserParts& parts, const Vec3& direction) {
    builder.add<solver::DeadForce>(parts.sections.back(), Vec3(100 * direction));
    const solver::System system = builder.system();
    solver::Workspace workspace(system);
    const solver::Numbering& n = system.numbering();
    const int held[] = {n.first(parts.yaw), n.first(parts.pitch), n.first(parts.roll)};
    const State state = testing::found(find_equilibrium(system, builder.rest(), held, workspace)).state;
    return (pose(parts.sections.back(), state).position - parts.rest.back().position).dot(direction);
}

/// A straight bar is a beam whatever it is joined to. Closed form of two uniform bars from the grip up, L₁
/// and L₂ long, the second turned by φ about the lateral axis, small displacements, a lateral force F at its
/// end:
///     u = F (L₁³/3 + L₁² L₂ cos φ + L₁ L₂² cos² φ + L₂³/3)/EI₃ + F L₁ L₂² sin² φ/GJ + F (L₁ + L₂)/GA₂
/// from the moments F (s + L₂ cos φ) and F L₂ sin φ in the first bar and F s in the second.
TEST(RiserParts, OfOneBeamAPieceAreExactAtAKink) {
    Riser riser = testing::small_bow().riser;
    riser.fill = 1;
    riser.elements = 2;
    const double first = 150, second = 180, phi = 0.6, width = 24, depth = 40;
    const Vec3 kink(24, 0, first), end = kink + second * Vec3(std::sin(phi), 0, std::cos(phi));
    riser.stations.clear();
    for (const Vec3& at : {Vec3(24, 0, -300), Vec3(24, 0, 0), kink, end})
        riser.stations.push_back({at, width, depth});
    const Built built(riser);
    ASSERT_EQ(built.parts.beams.size(), 3u);

    const solver::SectionStiffness C =
        solver::rectangle({riser.material.along, riser.material.shear}, width, depth);
    const double across = second * std::cos(phi), beside = second * std::sin(phi);
    const double bending =
        std::pow(first, 3) / 3 + first * first * across + first * across * across + std::pow(second, 3) / 3;
    const double expected =
        100 * (bending / C(5, 5) + first * beside * beside / C(3, 3) + (first + second) / C(1, 1));
    const double turn = 3 * expected / (first + second);
    // What the closed form leaves out is of the square of the turn; seen are 1.3e-6 of 1e-5.
    EXPECT_NEAR(give(built.builder, built.parts, Vec3::UnitY()) / expected, 1, turn * turn);
}

/// The small bow's riser of shells, with a guide's mount.
struct OfShells {
    static constexpr double guide_height = 85;
    Riser riser;
    Builder builder;
    RiserParts parts;
    explicit OfShells(const Riser& shape = testing::small_uneven_bow().riser)
        : riser(of_shells(shape)), parts(add_riser(riser, {guide_height}, builder)) {}

    static Riser of_shells(Riser shape) {
        shape.model = PartModel::shell;
        shape.shells = 48;
        shape.shells_across = 6;
        return shape;
    }
};

TEST(RiserOfShells, HasItsMountsBottomToTop) {
    const OfShells built;
    std::vector<double> heights;
    for (const Pose& rest : built.parts.rest) heights.push_back(rest.position.z());
    ASSERT_EQ(heights.size(), 4u);
    const double expected[] = {-300, 0, OfShells::guide_height, 300};
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(heights[i], expected[i], 1e-9);
    EXPECT_EQ(built.parts.stations.size(), 4u);
    EXPECT_TRUE(built.parts.beams.empty());
    EXPECT_FALSE(built.parts.shells.empty());
}

TEST(RiserOfShells, FollowsTheGripAtThePivot) {
    const OfShells built;
    State state = built.builder.rest();
    state.at(built.parts.yaw) = 0.3;
    const Pose turned{solver::exp<double>(Vec3(0, 0, 0.3)), Vec3::Zero()};
    const Pose grip = pose(built.parts.sections[1], state);
    EXPECT_LT((grip.position - turned * rest_of(built.parts, 1).position).norm(), 1e-12);
    EXPECT_EQ(pose(built.parts.sections[2], state).position, rest_of(built.parts, 2).position);
}

TEST(RiserOfShells, HoldsWhatStandsBesideAMountOnIt) {
    const OfShells built;
    const Pose guide{{}, Vec3(-110, -20, OfShells::guide_height)};
    const solver::Frame frame = built.parts.at(guide);
    EXPECT_LT((pose(frame, built.builder.rest()).position - guide.position).norm(), 1e-12);
    EXPECT_EQ(frame.node, built.parts.sections[2].node);
}

TEST(RiserOfShells, IsStressFreeAtRest) {
    const OfShells built;
    EXPECT_LT(total_energy(built.builder.system(), built.builder.rest()), 1e-15);
}

TEST(RiserOfShells, IsAboutAsStiffAsOneOfBeamsWhereItsLineIsStraight) {
    Riser riser = testing::small_bow().riser;
    for (RiserStation& s : riser.stations) s.position.x() = 100;
    riser.elements = 40;
    const Built beams(riser);
    const OfShells shells(riser);
    // Seen are 1.2 % to 2.4 % less: whole rows are rigid at grip, guide and pocket.
    for (const Vec3& direction : {Vec3(Vec3::UnitX()), Vec3(Vec3::UnitY()), Vec3(Vec3::UnitZ())}) {
        const double of_beams = give(beams.builder, beams.parts, direction);
        const double of_shells = give(shells.builder, shells.parts, direction);
        EXPECT_NEAR(of_shells / of_beams, 1, 0.03) << direction.transpose();
    }
}

}  // namespace
}  // namespace limbwright::models::riser_parts_test
