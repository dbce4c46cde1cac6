#include "solver/elements/cable.hpp"

#include "tests/support/element_check.hpp"

namespace limbwright::solver::cable_test {
namespace {

using testing::Random;

std::shared_ptr<const Groove> ellipse() {
    std::vector<double> values;
    for (int i = 0; i < 96; ++i) {
        const double psi = 2 * std::numbers::pi * i / 96;
        values.push_back(std::hypot(40 * std::cos(psi), 30 * std::sin(psi)) - 35);
    }
    return std::make_shared<const Groove>(Groove::periodic(35, Vec2(6, -4), values));
}

std::shared_ptr<const Groove> wheel(double radius) {
    return std::make_shared<const Groove>(Groove::circle(Vec2(2, 1), radius));
}

/// Two tilted sheaves that turn on nodes, a point between on a slide, all out of one plane.
State scene() {
    Random random(7);
    State state;
    state.nodes = {random.pose(0.15, 5), Pose{exp<double>(random.vector(0.15)), Vec3(20, -400, 15)},
                   Pose{exp<double>(random.vector(0.2)), Vec3(-130, -210, 30)}};
    state.points = {Vec3(-150, -190, 10)};
    state.scalars = {0.4, -0.3, 4.0};
    return state;
}

Frame sheave(int node, int scalar) {
    return Frame::on(NodeId(node), Pose{exp<double>(Vec3(0.02, -0.03, 0)), Vec3(1, 2, 9)})
        .then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(scalar), Pose{{}, Vec3(0, 0, 3)}});
}

Contact groove_contact(int node, int scalar, double sense, double expected, double anchor) {
    return {sheave(node, scalar), solver::Sheave{ellipse(), sense, expected, expected, anchor}};
}

TEST(Cable, FromPointToPointHasExactDerivatives) {
    const Cable cable({{Frame::on(PointId(0)), {}}, {Frame::on(NodeId(0), Pose{{}, Vec3(3, 1, -2)}), {}}},
                      {.stiffness = 5e4, .natural_length = 200});
    testing::check_derivatives(cable, scene());
    EXPECT_LT(testing::rigid_motion_error(cable, scene()), 1e-12);
}

TEST(Cable, OverASheaveThroughASlidingPointToASheaveHasExactDerivatives) {
    const Frame slide = Frame::on(NodeId(2), Pose{exp<double>(Vec3(0.1, 0.2, 0.3)), Vec3(4, -6, 8)})
                            .then(Joint{JointKind::slide, Vec3(0.6, 0, 0.8), ScalarId(2), {}});
    const Cable cable({groove_contact(0, 0, 1, std::numbers::pi, 1.0),
                       {slide, {}},
                       groove_contact(1, 1, -1, std::numbers::pi, 5.5)},
                      {.stiffness = 5e4, .natural_length = 300});
    testing::check_derivatives(cable, scene());
    EXPECT_LT(testing::rigid_motion_error(cable, scene()), 1e-12);
}

TEST(Cable, StraightFromOneTiltedSheaveToAnotherHasExactDerivatives) {
    for (const double sense : {1., -1.}) {
        const Cable cable({groove_contact(0, 0, 1, std::numbers::pi, 1.0),
                           groove_contact(1, 1, sense, sense < 0 ? std::numbers::pi : 0, 4.0)},
                          {.stiffness = 5e4, .natural_length = 100});
        testing::check_derivatives(cable, scene());
        EXPECT_LT(testing::rigid_motion_error(cable, scene()), 1e-12);
    }
}

TEST(Cable, OverAMiddleSheaveHasExactDerivatives) {
    Contact middle{sheave(2, 2), solver::Sheave{wheel(30), 1, 0, 0, 0}};
    middle.sheave->expected_previous = -1.5;
    middle.sheave->expected_next = 1.5;
    State state = scene();
    state.scalars[2] = 0.1;
    const Cable cable({{Frame::on(NodeId(0)), {}}, middle, {Frame::on(NodeId(1)), {}}},
                      {.stiffness = 5e4, .natural_length = 300});
    testing::check_derivatives(cable, state);
}

TEST(Cable, HasExactDerivativesUnderADeadTension) {
    const Cable cable({groove_contact(0, 0, 1, std::numbers::pi, 1.0), {Frame::on(PointId(0)), {}}},
                      {.dead_tension = 250});
    testing::check_derivatives(cable, scene());
}

TEST(Cable, CarriesNothingWhenSlack) {
    const Cable cable({{Frame::on(PointId(0)), {}}, {Frame::on(NodeId(0)), {}}},
                      {.stiffness = 5e4, .natural_length = 2000});
    ElementVector g;
    ElementMatrix H;
    cable.gradient_and_hessian(scene(), g, H);
    EXPECT_EQ(cable.energy(scene()), 0);
    EXPECT_EQ(g.norm() + H.norm(), 0);
}

}  // namespace
}  // namespace limbwright::solver::cable_test
