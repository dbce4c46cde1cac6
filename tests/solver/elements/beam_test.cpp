#include "solver/elements/beam.hpp"

#include "tests/support/complaint.hpp"
#include "tests/support/element_check.hpp"

namespace limbwright::solver::beam_test {
namespace {

using testing::Random;

/// A short, curved, twisted, tapered segment with an unsymmetric section.
Beam segment(const Frame& end1, const Frame& end2) {
    Vec6 bend;
    bend << 20, 0.5, -0.3, 0.1, 0.2, -0.15;
    return Beam(end1, end2, beam_data({}, exp_pose(bend), [](double u) {
                    Mat6 C = rectangle({40000, 4000}, 24 - 4 * u, 7 - u);
                    C(3, 4) = C(4, 3) = 0.2 * C(4, 4);  // bend-twist coupling of an unsymmetric laminate
                    return C;
                }));
}

State bent_and_twisted(double turn) {
    Random random(3);
    State state;
    state.nodes = {random.pose(2, 10), {}};
    state.nodes[1] = state.nodes[0] * Pose{exp<double>(random.vector(turn)), Vec3(19, 2, -3)};
    state.scalars = {0.3, -0.7, 0.5};
    return state;
}

TEST(Beam, HasExactDerivativesForAnyTurn) {
    for (const double turn : {1e-4, 0.05, 0.5, 1.5})
        testing::check_derivatives(segment(Frame::on(NodeId(0)), Frame::on(NodeId(1))),
                                   bent_and_twisted(turn));
}

TEST(Beam, HasExactDerivativesBetweenOffsetFramesWithJoints) {
    const Pose offset{exp<double>(Vec3(0.2, -0.1, 0.3)), Vec3(3, -4, 2)};
    const Frame two_hinges = Frame::on(NodeId(1), offset)
                                 .then(Joint{JointKind::hinge, Vec3::UnitY(), ScalarId(0), offset})
                                 .then(Joint{JointKind::hinge, Vec3(0.6, 0, 0.8), ScalarId(1), offset});
    const Frame slide = Frame::on(NodeId(0), offset)
                            .then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(1), offset})
                            .then(Joint{JointKind::slide, Vec3::UnitX(), ScalarId(2), offset});
    testing::check_derivatives(segment(slide, two_hinges), bent_and_twisted(0.3));
    testing::check_derivatives(
        segment(Frame::on_ground().then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(0), {}}), two_hinges),
        bent_and_twisted(0.3));
}

TEST(Beam, KeepsItsEnergyUnderARigidMotion) {
    EXPECT_LT(testing::rigid_motion_error(segment(Frame::on(NodeId(0)), Frame::on(NodeId(1))),
                                          bent_and_twisted(0.3)),
              1e-12);
}

TEST(Beam, CarriesNothingAtRestWhereverItLies) {
    Vec6 bend;
    bend << 20, 0.5, -0.3, 0.1, 0.2, -0.15;
    State state = bent_and_twisted(0.1);
    state.nodes[1] = state.nodes[0] * exp_pose(bend);
    ElementVector g;
    segment(Frame::on(NodeId(0)), Frame::on(NodeId(1))).gradient(state, g);
    EXPECT_LT(g.norm(), 1e-6);  // EA ≈ 6e6 N times rounding of a position, 1e-14 of 10 mm
}

TEST(Beam, RefusesALengthOfNothing) {
    const auto section = [](double) { return rectangle({40000, 4000}, 24, 7); };
    EXPECT_EQ(testing::complaint([&] {
                  (void)beam_data({}, {exp<double>(Vec3(0.1, 0, 0)), Vec3::Zero()}, section);
              }),
              "a beam must be longer than nothing, but is 0 mm long");
}

TEST(Beam, RefusesASectionThatGivesWay) {
    for (const double bad : {0., -1., std::numeric_limits<double>::quiet_NaN()}) {
        const auto section = [&](double) { return diagonal_section(1, 1, 1, bad, 1, 1); };
        EXPECT_EQ(testing::complaint([&] {
                      (void)beam_data({}, {{}, Vec3(20, 0, 0)}, section);
                  }),
                  "a beam's section must have a positive definite stiffness");
    }
}

}  // namespace
}  // namespace limbwright::solver::beam_test
