#include "solver/elements/frame.hpp"

#include <type_traits>

#include "tests/support/element_check.hpp"

namespace limbwright::solver::frame_test {
namespace {

using testing::Complex;
using testing::Random;

const Pose offset{exp<double>(Vec3(0.4, -0.3, 0.5)), Vec3(3, -4, 2)};
const Pose after[3] = {{exp<double>(Vec3(-0.2, 0.6, 0.1)), Vec3(-1, 5, 4)},
                       {exp<double>(Vec3(0.3, 0.2, -0.7)), Vec3(6, 1, -3)},
                       {exp<double>(Vec3(0.5, -0.4, 0.3)), Vec3(2, -2, 1)}};
const Vec3 axis[3] = {Vec3(0.6, 0, 0.8), Vec3(0, -0.8, 0.6), Vec3(0.48, -0.6, 0.64)};

Joint joint(JointKind kind, int i) {
    return {kind, axis[i % 3], ScalarId(i), after[i % 3]};
}

State scene() {
    Random random(11);
    State state;
    state.nodes = {random.pose(1.5, 5)};
    state.points = {random.vector(5)};
    state.scalars = {0.7, -1.2};
    while (state.scalars.size() < Frame::max_joints) state.scalars.push_back(random.number());
    return state;
}

/// Every anchor with every row of joints, from none to as many as fit.
std::vector<Frame> all_frames() {
    std::vector<Frame> frames{Frame::on(NodeId(0), offset), Frame::on(PointId(0)), Frame::on_ground(offset)};
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const Frame frame = frames[i];
        if (frame.joint_count == Frame::max_joints) break;
        for (const JointKind kind : {JointKind::hinge, JointKind::slide})
            frames.push_back(frame.then(joint(kind, frame.joint_count)));
    }
    return frames;
}

const Frame hinged_and_sliding =
    Frame::on(NodeId(0), offset).then(joint(JointKind::hinge, 0)).then(joint(JointKind::slide, 1));

double distance(const Pose& X, const Pose& Y) {
    return (X.position - Y.position).norm() + log(X.rotation.inverse() * Y.rotation).norm();
}

constexpr double few_roundings = 1e-14;  // of positions of order ten

TEST(Frame, OnANodeStandsAtItsOffset) {
    EXPECT_LT(distance(pose(Frame::on(NodeId(0), offset), scene()), scene().nodes[0] * offset),
              few_roundings);
}

TEST(Frame, OnAPointKeepsTheWorldsAxes) {
    const Pose X = pose(Frame::on(PointId(0)), scene());
    EXPECT_EQ(X.position, scene().points[0]);
    EXPECT_EQ(X.rotation.v, Vec3(Vec3::Zero()));
}

TEST(Frame, OnTheGroundStandsStill) {
    EXPECT_EQ(distance(pose(Frame::on_ground(offset), scene()), offset), 0);
}

TEST(Frame, GoesThroughItsJointsInOrder) {
    const Pose turned{exp<double>(0.7 * axis[0]), Vec3::Zero()}, slid{{}, -1.2 * axis[1]};
    const Pose by_hand = scene().nodes[0] * offset * turned * after[0] * slid * after[1];
    EXPECT_LT(distance(pose(hinged_and_sliding, scene()), by_hand), few_roundings);
}

TEST(Frame, AFurtherOffsetComesLast) {
    for (const Frame& frame : all_frames())
        EXPECT_LT(distance(pose(frame.then(offset), scene()), pose(frame, scene()) * offset),
                  2 * few_roundings);
}

TEST(Frame, CountsTheFreedomsOfItsAnchorAndItsJoints) {
    EXPECT_EQ(hinged_and_sliding.freedom_count(), 8);
    EXPECT_EQ(Frame::on(PointId(0)).then(joint(JointKind::hinge, 0)).freedom_count(), 4);
    EXPECT_EQ(Frame::on_ground().freedom_count(), 0);
}

TEST(Frame, IsABareNodeOnlyWithoutOffsetAndJoint) {
    EXPECT_TRUE(Frame::on(NodeId(0)).is_bare_node());
    EXPECT_FALSE(Frame::on(NodeId(0), Pose{{}, Vec3(0, 0, 1e-300)}).is_bare_node());
    EXPECT_FALSE(Frame::on(NodeId(0), Pose{exp<double>(Vec3(0, 0, 1e-9)), Vec3::Zero()}).is_bare_node());
    EXPECT_FALSE(Frame::on(NodeId(0)).then(joint(JointKind::hinge, 0)).is_bare_node());
    EXPECT_FALSE(Frame::on(PointId(0)).is_bare_node());
    EXPECT_FALSE(Frame::on_ground().is_bare_node());
}

TEST(Frame, RefusesAJointTooMany) {
    Frame full = Frame::on(NodeId(0));
    while (full.joint_count < Frame::max_joints) full = full.then(joint(JointKind::hinge, 0));
    EXPECT_THROW((void)full.then(joint(JointKind::hinge, 0)), std::length_error);
}

const int size = testing::numbering_of(scene()).size();

/// The places of a frame's increments in the vectors of the scene: node 0 … 5, point 6 … 8, scalars from 9.
std::vector<int> places_of(const Frame& frame) {
    std::vector<int> places;
    const int first = frame.node.value >= 0 ? 0 : 6;
    for (int i = 0; i < frame.freedom_count() - frame.joint_count; ++i) places.push_back(first + i);
    for (int i = 0; i < frame.joint_count; ++i) places.push_back(9 + i);
    return places;
}

/// Slope of (x, θ) along each increment at the scene moved by `step`, by complex step; θ is the rotation
/// vector from the frame's pose in the scene itself, in its own axes there.
FrameMotion::First slopes(const Frame& frame, const VecX& step) {
    const double h = 1e-30;
    const RotationOf<Complex> back = cast<Complex>(pose(frame, scene())).rotation.inverse();
    const std::vector<int> places = places_of(frame);
    FrameMotion::First first(6, frame.freedom_count());
    for (std::size_t i = 0; i < places.size(); ++i) {
        Eigen::VectorXcd stepped = step.cast<Complex>();
        stepped[places[i]] += Complex(0, h);
        const PoseOf<Complex> X = pose(frame, moved(testing::complex_state(scene()), stepped));
        first.col(static_cast<int>(i)) << X.position.imag() / h, log(back * X.rotation).imag() / h;
    }
    return first;
}

// A motion keeps a pointer to its frame, which must not be a temporary one.
static_assert(std::is_constructible_v<FrameMotion, const Frame&, const State&>);
static_assert(!std::is_constructible_v<FrameMotion, Frame, const State&>);

TEST(FrameMotion, StandsWhereTheFrameStands) {
    for (const Frame& frame : all_frames())
        EXPECT_EQ(distance(FrameMotion(frame, scene()).pose(), pose(frame, scene())), 0);
}

TEST(FrameMotion, FirstOrderIsTheSlopeOfThePose) {
    for (const Frame& frame : all_frames()) {
        const FrameMotion::First expected = slopes(frame, VecX::Zero(size));
        EXPECT_LT((FrameMotion(frame, scene()).first() - expected).norm(), testing::complex_step_accuracy);
    }
}

TEST(FrameMotion, SecondOrderIsTheSlopeOfTheFirst) {
    const Vec3 force(2, -1, 3), moment(-4, 5, 1);
    Vec6 load;
    load << force, moment;
    const double h = 1e-5;
    for (const Frame& frame : all_frames()) {
        const std::vector<int> places = places_of(frame);
        const int n = frame.freedom_count();
        FrameMotion::Second expected(n, n);
        for (int j = 0; j < n; ++j) {
            const VecX step = h * VecX::Unit(size, places[static_cast<std::size_t>(j)]);
            expected.col(j) = (slopes(frame, step) - slopes(frame, -step)).transpose() * load / (2 * h);
        }
        const FrameMotion::Second second = FrameMotion(frame, scene()).second(force, moment);
        EXPECT_LT((second - expected).norm(), testing::central_difference_accuracy * (1 + expected.norm()));
    }
}

TEST(FrameMotion, SecondOrderIsSymmetric) {
    for (const Frame& frame : all_frames()) {
        const FrameMotion::Second B = FrameMotion(frame, scene()).second(Vec3(2, -1, 3), Vec3(-4, 5, 1));
        EXPECT_LT((B - B.transpose()).norm(), 1e-13);  // roundings of entries of order a hundred
    }
}

TEST(FrameMotion, AForceAtTheEndOfAnArmStiffensItsHinge) {
    // An arm r along X on a hinge about Z, drawn by f along X: energy −f r cos q, so ∂²(f·x) = −f r.
    const Frame arm =
        Frame::on_ground().then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(0), Pose{{}, Vec3(5, 0, 0)}});
    State state;
    state.scalars = {0};
    EXPECT_DOUBLE_EQ(FrameMotion(arm, state).second(Vec3(3, 0, 0), Vec3::Zero())(0, 0), -15);
}

}  // namespace
}  // namespace limbwright::solver::frame_test
