#include "solver/elements/spring.hpp"

#include "tests/support/element_check.hpp"

namespace limbwright::solver::spring_test {
namespace {

using testing::Random;

State at(double a, double b) {
    State state;
    state.scalars = {a, b};
    return state;
}

Spring on_difference(const Spring::Data& data) {
    return Spring({{ScalarId(0), 1.}, {ScalarId(1), -2.}}, data);
}

TEST(Spring, ActsOnTheWeightedSumOfItsScalars) {
    const Spring spring = on_difference({.stiffness = 10, .rest = 1});
    EXPECT_DOUBLE_EQ(spring.value(at(7, 2)), 3);
    EXPECT_DOUBLE_EQ(spring.energy(at(7, 2)), 20);  // ½ · 10 · (3 − 1)²
}

TEST(Spring, PushesEachScalarByItsWeight) {
    ElementVector g;
    on_difference({.stiffness = 10, .rest = 1}).gradient(at(7, 2), g);
    EXPECT_DOUBLE_EQ(g[0], 20);
    EXPECT_DOUBLE_EQ(g[1], -40);
}

TEST(Spring, HasExactDerivatives) {
    testing::check_derivatives(on_difference({.stiffness = 10, .rest = 1, .load = 3}), at(0.7, 0.2));
    testing::check_derivatives(on_difference({.stiffness = 10, .rest = 0.1, .side = Side::above}),
                               at(0.7, 0.2));
    testing::check_derivatives(on_difference({.stiffness = 10, .rest = 1, .side = Side::below}),
                               at(0.7, 0.2));
}

TEST(Spring, AStopAboveCarriesNothingBelowItsRest) {
    const Spring stop = on_difference({.stiffness = 10, .rest = 1, .side = Side::above});
    ElementVector g;
    ElementMatrix H;
    stop.gradient_and_hessian(at(0.9, 0), g, H);
    EXPECT_EQ(stop.energy(at(0.9, 0)), 0);
    EXPECT_EQ(g.norm() + H.norm(), 0);
    EXPECT_NEAR(stop.energy(at(1.1, 0)), 0.05, 1e-15);  // ½ · 10 · 0.1², a few roundings
}

TEST(Spring, AStopBelowCarriesNothingAboveItsRest) {
    const Spring stop = on_difference({.stiffness = 10, .rest = 1, .side = Side::below});
    EXPECT_EQ(stop.energy(at(1.1, 0)), 0);
    EXPECT_NEAR(stop.energy(at(0.9, 0)), 0.05, 1e-15);  // as above
}

TEST(Spring, WithoutStiffnessIsADeadLoad) {
    const Spring load = on_difference({.load = 3});
    ElementVector g;
    ElementMatrix H;
    load.gradient_and_hessian(at(7, 2), g, H);
    EXPECT_DOUBLE_EQ(load.energy(at(7, 2)), -9);
    EXPECT_DOUBLE_EQ(g[0], -3);
    EXPECT_DOUBLE_EQ(g[1], 6);
    EXPECT_EQ(H.norm(), 0);
}

TEST(Spring, AStopKeepsItsLoadWhereItDoesNotAct) {
    const Spring stop = on_difference({.stiffness = 10, .rest = 1, .side = Side::above, .load = 3});
    ElementVector g;
    stop.gradient(at(0.5, 0), g);
    EXPECT_DOUBLE_EQ(g[0], -3);
}

TEST(DeadForce, LosesWhatItGivesAlongItsDirection) {
    State state;
    state.points = {Vec3(1, 2, 3)};
    const DeadForce force(Frame::on(PointId(0)), Vec3(10, 0, -1));
    ElementVector g;
    force.gradient(state, g);
    EXPECT_DOUBLE_EQ(force.energy(state), -7);
    EXPECT_EQ(Vec3(g), Vec3(-10, 0, 1));
}

TEST(DeadForce, HasExactDerivativesAtTheEndOfAnArm) {
    Random random(5);
    State state;
    state.nodes = {random.pose(1.5, 5)};
    state.scalars = {0.7, -1.2};
    const Pose offset{exp<double>(Vec3(0.4, -0.3, 0.5)), Vec3(3, -4, 2)};
    const Frame arm = Frame::on(NodeId(0), offset)
                          .then(Joint{JointKind::hinge, Vec3::UnitY(), ScalarId(0), offset})
                          .then(Joint{JointKind::slide, Vec3(0.6, 0, 0.8), ScalarId(1), offset});
    testing::check_derivatives(DeadForce(arm, Vec3(10, -5, 7)), state);
}

TEST(Spring, RefusesASumOfMoreScalarsThanAnElementsVectorsHold) {
    std::vector<std::pair<ScalarId, double>> weights;
    for (int i = 0; i <= max_element_freedoms; ++i) weights.emplace_back(ScalarId(i), 1.);
    EXPECT_THROW(Spring(weights, {.stiffness = 1}), std::length_error);
}

}  // namespace
}  // namespace limbwright::solver::spring_test
