#include "solver/system/masses.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "solver/elements/laminate.hpp"

namespace limbwright::solver::masses_test {
namespace {

constexpr double rounding = 1e-13;

TEST(Masses, ATaperedSegmentHasTheMassOfItsVolume) {
    // Width 20 to 10 and thickness 8 to 5 over 100 mm: the prismatoid's volume L (A₀ + 4 Aₘ + A₁)/6.
    const double volume = 100. / 6 * (20 * 8 + 4 * 15 * 6.5 + 10 * 5);
    const std::array<Body, 2> bodies =
        segment_masses(Frame::on(NodeId(0)), Frame::on(NodeId(1)), 100,
                       [](double u) { return rectangle_mass(2e-9, 20 - 10 * u, 8 - 3 * u); });
    EXPECT_NEAR(total_mass(bodies) / (2e-9 * volume), 1, rounding);
}

TEST(Masses, ASegmentKeepsItsCentreOfMass) {
    // Cross-section falls from 1 to 0: a wedge, whose centre of mass lies at a third of its length.
    const std::array<Body, 2> bodies =
        segment_masses(Frame::on(NodeId(0)), Frame::on(NodeId(1)), 90, [](double u) {
            return SectionMass{1 - u, {}};
        });
    EXPECT_NEAR(90 * bodies[1].mass / total_mass(bodies), 30, 30 * rounding);
}

TEST(Masses, ARoundBarTurnsAsACylinder) {
    // Solid cylinder (any handbook): half of m r² about its axis, a quarter across for each thin slice.
    const double mass = 7.85e-9 * std::numbers::pi * 9;
    const SectionMass section = circle_mass(7.85e-9, 6);
    EXPECT_NEAR(section.mass / mass, 1, rounding);
    EXPECT_NEAR(section.inertia[0] / (mass * 9 / 2), 1, rounding);
    EXPECT_NEAR(section.inertia[2] / (mass * 9 / 4), 1, rounding);
}

/// A lump on a node's arm, then on a hinge's.
struct OnAnArm {
    State state{
        .nodes = {Pose{exp<double>(Vec3(0.3, -0.2, 0.5)), {1, 2, 3}}}, .points = {}, .scalars = {0.7}};
    Body body{.frame = Frame::on(NodeId(0), Pose{{}, {10, 0, 0}})
                           .then({JointKind::hinge, Vec3::UnitZ(), ScalarId(0), Pose{{}, {0, 20, 0}}}),
              .mass = 3,
              .inertia = Vec3(1, 2, 4).asDiagonal()};
};

TEST(Masses, TheMassMatrixIsTwiceTheKineticEnergyOfEveryMotion) {
    const OnAnArm arm;
    const Numbering n{.nodes = 1, .scalars = 1};
    VecX step = VecX::Zero(n.size());
    step.head(7) << 0.1, -0.4, 0.3, 0.2, 0.5, -0.6, 0.8;
    const Vec6 motion = motion_of(arm.body, arm.state, step, n);
    const double twice =
        3 * motion.head<3>().squaredNorm() + motion.tail<3>().dot(arm.body.inertia * Vec3(motion.tail<3>()));
    EXPECT_NEAR(step.head(7).dot(mass_matrix(arm.body, arm.state) * step.head(7)) / twice, 1, rounding);
}

TEST(Masses, AMotionIsTheStatesOwnToFirstOrder) {
    const OnAnArm arm;
    const Numbering n{.nodes = 1, .scalars = 1};
    VecX step = VecX::Zero(n.size());
    step.head(7) << 0.1, -0.4, 0.3, 0.2, 0.5, -0.6, 0.8;
    constexpr double h = 1e-5;  // differences of second order: errors of some 1e-9 of a motion of some 20 mm
    const Vec3 moved_by = (pose(arm.body.frame, moved(arm.state, VecX(h * step))).position -
                           pose(arm.body.frame, moved(arm.state, VecX(-h * step))).position) /
                          (2 * h);
    EXPECT_LT((motion_of(arm.body, arm.state, step, n).head<3>() - moved_by).norm(), 1e-7);
}

/// A flat shell, 2 mm thick, whose nodes have axes of their own.
struct FlatShell {
    State rest;
    std::vector<Frame> frames;
    std::vector<ShellCorner> corners;

    explicit FlatShell(const std::vector<Vec3>& places) {
        for (const Vec3& place : places) {
            const int i = static_cast<int>(rest.nodes.size());
            rest.nodes.push_back({exp<double>(Vec3(0.3 * i, -0.2, 0.5)), place});
            frames.push_back(Frame::on(NodeId(i)));
            corners.push_back({rest.nodes.back(), Vec3::UnitZ()});
        }
    }
    [[nodiscard]] std::vector<Body> masses(double density) const {
        const WallStiffness wall = wall_stiffness({{isotropic({70000, 26000}), 0, 2}});
        return shell_masses(Shell(frames, corners, Vec3::UnitX(), wall), density, 2, rest);
    }
};

TEST(Masses, AShellHasTheMassOfItsVolumeAndAParallelogramItsCentre) {
    const FlatShell shell({{0, 0, 5}, {10, 0, 5}, {14, 6, 5}, {4, 6, 5}});
    const std::vector<Body> bodies = shell.masses(3e-9);
    ASSERT_EQ(bodies.size(), 4u);
    const double mass = 3e-9 * 2 * 60;
    EXPECT_NEAR(total_mass(bodies) / mass, 1, rounding);
    Vec3 moment = Vec3::Zero();
    for (const Body& body : bodies) moment += body.mass * pose(body.frame, shell.rest).position;
    EXPECT_LT((moment / mass - Vec3(7, 3, 5)).norm(), 20 * rounding);
}

TEST(Masses, ATriangleHasAThirdOfItsMassAtEachCorner) {
    for (const Body& body : FlatShell({{0, 0, 0}, {10, 0, 0}, {0, 6, 0}}).masses(3e-9))
        EXPECT_NEAR(body.mass / (3e-9 * 2 * 30 / 3), 1, rounding);
}

TEST(Masses, AShellTurnsAboutTheAxesInItAsItsThicknessDoes) {
    const FlatShell shell({{0, 0, 0}, {10, 0, 0}, {10, 6, 0}, {0, 6, 0}});
    for (const Body& body : shell.masses(3e-9)) {
        const Mat3 R = pose(body.frame, shell.rest).rotation.matrix();
        const Mat3 world = R * body.inertia * R.transpose();
        const Mat3 expected = body.mass * 4 / 12 * Vec3(1, 1, 0).asDiagonal();
        // About the normal there may be a thousandth, so that a corner's turn has some mass.
        EXPECT_LT((world - expected).norm(), 1e-3 * expected.norm());
    }
}

}  // namespace
}  // namespace limbwright::solver::masses_test
