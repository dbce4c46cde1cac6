#include "solver/elements/shell.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/element_check.hpp"

namespace limbwright::solver::shell_test {
namespace {

using testing::Random;

/// A wall with every coupling that a laminate may have: a well-conditioned positive definite matrix.
WallStiffness coupled_wall() {
    WallStiffness root = WallStiffness::Zero();
    Random random(11);
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 6; ++j) root(i, j) = (i == j ? 3 : 0) + 0.4 * random.number();
    root(6, 6) = root(7, 7) = 2;
    root(6, 7) = 0.3;
    return 100 * root * root.transpose();
}

WallStiffness isotropic_wall(double young, double poisson, double thickness) {
    const double membrane = young * thickness / (1 - poisson * poisson);
    WallStiffness wall = WallStiffness::Zero();
    for (int half = 0; half < 2; ++half) {
        const double scale = membrane * (half == 0 ? 1 : thickness * thickness / 12);
        const int k = 3 * half;
        wall(k, k) = wall(k + 1, k + 1) = scale;
        wall(k, k + 1) = wall(k + 1, k) = poisson * scale;
        wall(k + 2, k + 2) = 0.5 * (1 - poisson) * scale;
    }
    wall(6, 6) = wall(7, 7) = 5. / 6 * young / (2 * (1 + poisson)) * thickness;
    return wall;
}

struct Scene {
    std::vector<ShellCorner> corners;
    std::vector<Frame> frames;
    State rest;
};

/// A warped, distorted element with a normal of its own at every corner and any axes at its nodes.
Scene warped(int corners) {
    const std::array<Vec3, 4> places{Vec3(0, 0, 0.3), Vec3(10, -1, 0), Vec3(12, 8, 1), Vec3(-1, 7, -0.5)};
    Random random(7);
    Scene scene;
    for (int i = 0; i < corners; ++i) {
        const Pose frame{random.pose(2, 0).rotation, places[static_cast<std::size_t>(i)]};
        scene.corners.push_back({frame, (Vec3::UnitZ() + random.vector(0.1)).normalized()});
        scene.frames.push_back(Frame::on(NodeId(i)));
        scene.rest.nodes.push_back(frame);
    }
    return scene;
}

Shell shell_of(const Scene& scene) {
    return Shell(scene.frames, scene.corners, Vec3(1, 0.3, 0.2), coupled_wall());
}

/// The rest state moved at random, small or large.
State disturbed(const Scene& scene, double turn, double place) {
    Random random(23);
    VecX step(testing::numbering_of(scene.rest).size());
    for (int i = 0; i < step.size(); ++i) step[i] = random.number() * (i % 6 < 3 ? place : turn);
    return moved(scene.rest, step);
}

class ShellOf : public ::testing::TestWithParam<int> {};

TEST_P(ShellOf, HasExactDerivativesForAnyTurn) {
    const Scene scene = warped(GetParam());
    for (const double turn : {1e-3, 0.3, 1.5})
        testing::check_derivatives(shell_of(scene), disturbed(scene, turn, 2 * turn));
}

TEST_P(ShellOf, HasExactDerivativesWithCornersOnOffsetFramesOfOneNode) {
    Scene scene = warped(GetParam());
    scene.rest.scalars = {0.2};
    const Pose root = scene.rest.nodes[0];
    const Frame hinge =
        Frame::on(NodeId(0)).then(Joint{JointKind::hinge, Vec3(0.6, 0, 0.8), ScalarId(0), {}});
    for (std::size_t i = 0; i < 2; ++i)
        scene.frames[i] = hinge.then(pose(hinge, scene.rest).inverse() * scene.corners[i].frame);
    scene.frames[2] = Frame::on(NodeId(2), Pose{exp<double>(Vec3(0.1, 0, 0)), Vec3(1, 2, 3)});
    testing::check_derivatives(shell_of(scene), disturbed(scene, 0.2, 0.5));
    EXPECT_NEAR(root.position.z(), 0.3, 1e-15);
}

TEST_P(ShellOf, KeepsItsEnergyUnderARigidMotion) {
    const Scene scene = warped(GetParam());
    EXPECT_LT(testing::rigid_motion_error(shell_of(scene), disturbed(scene, 0.3, 0.5)), 1e-12);
}

TEST_P(ShellOf, CarriesNothingAtRestWhereverItLies) {
    const Scene scene = warped(GetParam());
    const State state =
        testing::rigidly_moved(scene.rest, {exp<double>(Vec3(1, 2, -0.5)), Vec3(30, -20, 10)});
    ElementVector g;
    shell_of(scene).gradient(state, g);
    // Stiffness about 1e3 N/mm times rounding of a position, 1e-14 of 30 mm, times a moment's arm of 10 mm.
    EXPECT_LT(g.norm(), 1e-8);
}

TEST_P(ShellOf, DoesNotKnowInWhichOrderItsCornersStand) {
    const Scene scene = warped(GetParam());
    const State state = disturbed(scene, 0.3, 0.5);
    const double energy = shell_of(scene).energy(state);
    const auto n = static_cast<std::size_t>(GetParam());
    for (std::size_t first = 0; first < n; ++first)
        for (const bool back : {false, true}) {
            Scene other = scene;
            for (std::size_t i = 0; i < n; ++i) {
                const std::size_t from = (first + (back ? n - i : i)) % n;
                other.corners[i] = scene.corners[from];
                other.frames[i] = scene.frames[from];
            }
            // Rounding; a triangle's tied shear depends on the order only in its form, not in its value.
            EXPECT_NEAR(shell_of(other).energy(state), energy, 1e-11 * energy);
        }
}

INSTANTIATE_TEST_SUITE_P(Corners, ShellOf, ::testing::Values(3, 4));

/// A flat distorted quadrilateral or triangle under one state of constant strain or curvature of a wall.
struct Patch {
    Scene scene;
    Patch(int corners, const Pose& place) {
        scene = warped(corners);
        for (std::size_t i = 0; i < scene.corners.size(); ++i) {
            scene.corners[i].frame.position.z() = 0;
            scene.corners[i].normal = place.rotation * Vec3(Vec3::UnitZ());
            scene.corners[i].frame.position = place * scene.corners[i].frame.position;
            scene.rest.nodes[i] = scene.corners[i].frame;
        }
    }
};

TEST_P(ShellOf, ShowsAConstantStrainAsItIs) {
    const Pose place{exp<double>(Vec3(0.4, -0.2, 1.1)), Vec3(3, 4, 5)};
    const Patch patch(GetParam(), place);
    const double a = 1e-6, b = -2e-6, c = 3e-6;  // small: Green's strain differs by their squares
    State state = patch.scene.rest;
    for (Pose& X : state.nodes) {
        const Vec3 p = place.inverse() * X.position;
        X.position =
            place * Vec3(p.x() + a * p.x() + 0.5 * c * p.y(), p.y() + b * p.y() + 0.5 * c * p.x(), 0);
    }
    const WallStiffness wall = coupled_wall();
    const Shell shell(patch.scene.frames, patch.scene.corners, place.rotation * Vec3(Vec3::UnitX()), wall);
    const WallState found = shell.wall_state(state);
    EXPECT_LT((found.strain - Vec3(a, b, c)).norm(), 1e-10);
    EXPECT_LT(found.curvature.norm(), 1e-10);
    Eigen::Matrix<double, 8, 1> strain = Eigen::Matrix<double, 8, 1>::Zero();
    strain.head<3>() = Vec3(a, b, c);
    const Eigen::Matrix<double, 8, 1> stress = wall * strain;
    EXPECT_LT((found.force - stress.head<3>()).norm(), 1e-4 * stress.norm());
    EXPECT_NEAR(shell.energy(state), 0.5 * shell.area() * strain.dot(stress), 1e-4 * shell.energy(state));
}

TEST_P(ShellOf, ShowsAConstantCurvatureAsItIs) {
    const Patch patch(GetParam(), {});
    const double a = 1e-7, b = -2e-7, c = 3e-7;  // [1/mm]
    State state = patch.scene.rest;
    // w = −(a x² + b y² + c x y)/2, no shear: the normal turns by −∇w.
    for (Pose& X : state.nodes) {
        const double x = X.position.x(), y = X.position.y();
        X.position.z() = -0.5 * (a * x * x + b * y * y + c * x * y);
        const Vec3 slope(a * x + 0.5 * c * y, b * y + 0.5 * c * x, 0);  // director's change
        X.rotation = exp<double>(Vec3(-slope.y(), slope.x(), 0)) * X.rotation;
    }
    const Shell shell(patch.scene.frames, patch.scene.corners, Vec3::UnitX(), coupled_wall());
    const WallState found = shell.wall_state(state);
    EXPECT_LT((found.curvature - Vec3(a, b, c)).norm(), 1e-11);
    EXPECT_LT(found.strain.norm(), 1e-10);
    EXPECT_LT(found.shear_strain.norm(), 1e-10);
}

TEST_P(ShellOf, HoldsNoCornerThatIsTurnedHalfRound) {
    const Patch patch(GetParam(), {});
    const Shell shell(patch.scene.frames, patch.scene.corners, Vec3::UnitX(), isotropic_wall(70000, 0.3, 2));
    State state = patch.scene.rest;
    state.nodes[1].rotation = exp<double>(Vec3(0, 0, std::numbers::pi)) * state.nodes[1].rotation;
    EXPECT_GT(shell.energy(state), 0);
    ElementVector g;
    ElementMatrix H;
    shell.gradient_and_hessian(state, g, H);
    // The corner turns on and the others turn by as much together, so that the element's mean turn stays.
    VecX turn = VecX::Zero(g.size());
    for (int i = 0; i < GetParam(); ++i)
        turn.segment<3>(6 * i + 3) = state.nodes[static_cast<std::size_t>(i)].rotation.inverse() *
                                     Vec3((i == 1 ? 1. : 1. / (GetParam() - 1)) * Vec3::UnitZ());
    EXPECT_LT(turn.dot(H * turn), 0) << "turning on would cost energy: the corner would stay";
}

TEST(Shell, RefusesWhatIsNoElement) {
    Scene scene = warped(4);
    const auto make = [&] { return shell_of(scene); };
    EXPECT_NO_THROW((void)make());
    std::swap(scene.corners[1], scene.corners[2]);  // crossed sides
    EXPECT_THROW((void)make(), std::invalid_argument);
    scene = warped(4);
    const auto side = [&](std::size_t from, std::size_t to) {
        return Vec3(scene.corners[to].frame.position - scene.corners[from].frame.position);
    };
    const Vec3 normal = side(0, 2).cross(side(1, 3));
    EXPECT_THROW(Shell(scene.frames, scene.corners, normal, coupled_wall()), std::invalid_argument);
    EXPECT_THROW(Shell(scene.frames, scene.corners, Vec3::UnitX(), -coupled_wall()), std::invalid_argument);
    scene.corners.pop_back();
    EXPECT_THROW((void)make(), std::invalid_argument);
}

TEST(Shell, IsotropicWallKnowsNoDirection) {
    const Scene scene = warped(4);
    const State state = disturbed(scene, 0.1, 0.2);
    const WallStiffness wall = isotropic_wall(70000, 0.3, 2);
    const double energy = Shell(scene.frames, scene.corners, Vec3::UnitX(), wall).energy(state);
    EXPECT_NEAR(Shell(scene.frames, scene.corners, Vec3(0.3, -2, 0.5), wall).energy(state), energy,
                1e-10 * energy);
}

}  // namespace
}  // namespace limbwright::solver::shell_test
