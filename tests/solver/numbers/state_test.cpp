#include "solver/numbers/state.hpp"

#include <gtest/gtest.h>

#include <complex>

namespace limbwright::solver::state_test {
namespace {

using Complex = std::complex<double>;

State scene() {
    State state;
    state.nodes = {Pose{exp<double>(Vec3(0.9, -1.3, 0.7)), Vec3(3, -2, 5)}, {}};
    state.points = {Vec3(1, 2, 3)};
    state.scalars = {0.5, -4};
    return state;
}

TEST(State, AnUnsetIndexNamesNothing) {
    EXPECT_LT(NodeId().value, 0);
}

TEST(Numbering, PutsNodesThenPointsThenScalars) {
    const Numbering n{.nodes = 2, .points = 3, .scalars = 4};
    EXPECT_EQ(n.first(NodeId(1)), 6);
    EXPECT_EQ(n.first(PointId(0)), 12);
    EXPECT_EQ(n.first(PointId(2)), 18);
    EXPECT_EQ(n.first(ScalarId(0)), 21);
    EXPECT_EQ(n.first(ScalarId(3)), 24);
    EXPECT_EQ(n.used(), 25);
}

TEST(Numbering, FillsItsLastSlotUp) {
    EXPECT_EQ((Numbering{.nodes = 2, .points = 1, .scalars = 2}.slots()), 3);
    EXPECT_EQ((Numbering{.nodes = 2, .points = 1, .scalars = 3}.size()), 18);
    EXPECT_EQ((Numbering{.nodes = 2, .points = 1, .scalars = 4}.size()), 24);
    EXPECT_EQ((Numbering{}.size()), 0);
}

TEST(Numbering, NoPointLiesAcrossTwoSlots) {
    const Numbering n{.nodes = 1, .points = 5};
    for (int i = 0; i < n.points; ++i) {
        const int first = n.first(PointId(i));
        EXPECT_EQ(first / 6, (first + 2) / 6);
    }
}

TEST(Moved, MovesANodeInWorldAxesAndTurnsItInItsOwn) {
    const State before = scene();
    VecX step = VecX::Zero(18);
    step.head<6>() << 10, 20, 30, 0.1, -0.2, 0.3;
    const State after = moved(before, step);
    EXPECT_EQ(after.nodes[0].position, Vec3(13, 18, 35));
    const Vec3 own = log(before.nodes[0].rotation.inverse() * after.nodes[0].rotation);
    EXPECT_LT((own - Vec3(0.1, -0.2, 0.3)).norm(), 1e-15);  // a few roundings
}

TEST(Moved, MovesPointsAndScalarsByTheirOwnIncrements) {
    VecX step = VecX::Zero(18);
    step.segment<5>(12) << 10, 20, 30, 0.25, -1;
    const State after = moved(scene(), step);
    EXPECT_EQ(after.points[0], Vec3(11, 22, 33));
    EXPECT_EQ(after.scalars, (std::vector<double>{0.75, -5}));
}

TEST(Moved, LeavesTheGivenStateAsItWas) {
    const State before = scene();
    (void)moved(before, VecX(VecX::Ones(18)));
    EXPECT_EQ(before.nodes[0].position, scene().nodes[0].position);
    EXPECT_EQ(before.points, scene().points);
    EXPECT_EQ(before.scalars, scene().scalars);
}

TEST(Moved, KeepsRotationsOfUnitLength) {
    State state = scene();
    for (int i = 0; i < 1000; ++i) state = moved(state, VecX(VecX::Constant(18, 0.1)));
    const Rotation& R = state.nodes[0].rotation;
    EXPECT_NEAR(R.w * R.w + R.v.squaredNorm(), 1, 1e-15);  // roundings do not add up over a thousand steps
}

TEST(Moved, CarriesAComplexStepIntoTheFirstDerivative) {
    const State real = scene();
    StateOf<Complex> state;
    for (const Pose& X : real.nodes) state.nodes.push_back(cast<Complex>(X));
    state.points = {real.points[0].cast<Complex>()};
    state.scalars = {0.5, -4.};
    const double h = 1e-30;
    const Vec3 omega(0.4, -0.7, 1.1), x(2, 3, -1);
    Eigen::VectorXcd step = Eigen::VectorXcd::Zero(18);
    step.segment<3>(3) = Complex(0, h) * omega.cast<Complex>();
    const Vector3<Complex> turned =
        moved(state, step).nodes[0].rotation * Vector3<Complex>(x.cast<Complex>());
    const Vec3 expected = real.nodes[0].rotation * Vec3(omega.cross(x));  // d(R exp θ x) = R (θ × x)
    EXPECT_LT((turned.imag() / h - expected).norm(), 1e-14);  // roundings of products of order ten
}

}  // namespace
}  // namespace limbwright::solver::state_test
