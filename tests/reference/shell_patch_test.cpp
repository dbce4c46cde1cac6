#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>

#include "tests/support/shell_scenes.hpp"

/// Patch tests: distorted elements with free inner nodes under boundary displacements of a state that every
/// element can have must show that state and nothing else.
namespace limbwright::testing::shell_patch_test {
namespace {

/// R.H. MacNeal & R.L. Harder, Finite Elem. Anal. Des. 1 (1985): 0.24 × 0.12 × 0.001, E = 1e6, ν = 0.25.
/// Corners 0 … 3 on the boundary, 4 … 7 inside.
ShellScene patch(const std::vector<std::vector<int>>& cells) {
    ShellScene scene{.wall = isotropic_wall(1e6, 0.25, 0.001)};
    for (const auto& [x, y] : {std::pair{0., 0.},
                               {0.24, 0.},
                               {0.24, 0.12},
                               {0., 0.12},
                               {0.04, 0.02},
                               {0.18, 0.03},
                               {0.16, 0.08},
                               {0.08, 0.08}})
        scene.add_corner({{x, y, 0}, Vec3::UnitZ()});
    scene.cells = cells;
    return scene;
}
const std::vector<std::vector<int>> quadrilaterals{
    {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}, {4, 5, 6, 7}};
/// The inner element and one at the boundary in two triangles each; node order at will.
const std::vector<std::vector<int>> mixed{{0, 1, 5, 4}, {1, 2, 6}, {6, 5, 1}, {2, 3, 7, 6},
                                          {3, 0, 4, 7}, {4, 7, 5}, {5, 6, 7}};

/// Increments of a node (displacement, turn) as a function of its place.
using Field = std::function<Vec6(const Vec3&)>;

Vec6 membrane(const Vec3& p) {
    Vec6 q = Vec6::Zero();
    q.head<2>() = 1e-3 * Vec2(p.x() + 0.5 * p.y(), p.y() + 0.5 * p.x());
    return q;
}
/// w = 1e-3 (x² + xy + y²)/2; the normal turns by the slopes: no transverse shear.
Vec6 bending(const Vec3& p) {
    Vec6 q = Vec6::Zero();
    q[2] = 0.5e-3 * (p.x() * p.x() + p.x() * p.y() + p.y() * p.y());
    q[3] = 0.5e-3 * (p.x() + 2 * p.y());
    q[4] = -0.5e-3 * (2 * p.x() + p.y());
    return q;
}
/// w = 1e-3 x y: twist alone.
Vec6 twist(const Vec3& p) {
    Vec6 q = Vec6::Zero();
    q[2] = 1e-3 * p.x() * p.y();
    q[3] = 1e-3 * p.x();
    q[4] = -1e-3 * p.y();
    return q;
}

/// The response to the field on the boundary; turns about the normal are nowhere given.
VecX response(ShellScene& scene, const Field& field) {
    VecX given = VecX::Zero(6 * static_cast<int>(scene.corners.size()));
    for (int corner = 0; corner < 4; ++corner) {
        scene.hold(corner, {along_x, along_y, along_z, about_x, about_y});
        given.segment<6>(6 * corner) = field(scene.place(corner));
    }
    return linear_response(scene, given);
}

/// Largest difference of the inner nodes' increments from the field's, by the field's largest of each kind.
double inner_error(const ShellScene& scene, const VecX& q, const Field& field) {
    double error = 0, move = 0, turn = 0;
    for (int corner = 0; corner < 8; ++corner) {
        const Vec6 exact = field(scene.place(corner));
        move = std::max(move, exact.head<3>().norm());
        turn = std::max(turn, exact.tail<3>().norm());
    }
    for (int corner = 4; corner < 8; ++corner) {
        const Vec6 difference = q.segment<6>(6 * corner) - field(scene.place(corner));
        error = std::max({error, difference.head<3>().norm() / move,
                          turn > 0 ? difference.tail<3>().norm() / turn : difference.tail<3>().norm()});
    }
    return error;
}

/// Forces and moments at an element's centre, to first order in the response.
struct Resultants {
    Vec3 force, moment;
    Vec2 shear;
};
Resultants resultants(const ShellScene& scene, std::size_t cell, const VecX& q) {
    constexpr double h = 1e-4;  // strains of 1e-7: second order cancels between the two
    const Shell shell = scene.shell(cell);
    const WallState plus = shell.wall_state(moved(scene.rest, VecX(h * q)));
    const WallState minus = shell.wall_state(moved(scene.rest, VecX(-h * q)));
    return {(plus.force - minus.force) / (2 * h), (plus.moment - minus.moment) / (2 * h),
            (plus.shear_force - minus.shear_force) / (2 * h)};
}

class Patch : public ::testing::TestWithParam<const std::vector<std::vector<int>>*> {};

/// Rounding of the linear solve: 1e-16 times the plate's ratio of membrane to bending stiffness, (h/t)² ≈
/// 1e4.
constexpr double solved = 1e-10;
/// Rounding of a strain of 1e-7.
constexpr double strained = 1e-7;

TEST_P(Patch, ShowsAConstantMembraneState) {
    ShellScene scene = patch(*GetParam());
    const VecX q = response(scene, membrane);
    EXPECT_LT(inner_error(scene, q, membrane), solved);
    for (std::size_t cell = 0; cell < scene.cells.size(); ++cell) {
        // MacNeal & Harder: σ = 1333.33, 1333.33, 400; t = 0.001.
        const Resultants found = resultants(scene, cell, q);
        EXPECT_LT((found.force - Vec3(4. / 3, 4. / 3, 0.4)).norm(), strained);
    }
}

TEST_P(Patch, ShowsAConstantBendingState) {
    ShellScene scene = patch(*GetParam());
    const VecX q = response(scene, bending);
    EXPECT_LT(inner_error(scene, q, bending), solved);
    for (std::size_t cell = 0; cell < scene.cells.size(); ++cell) {
        // MacNeal & Harder: moments 1.111e-7, 1.111e-7, 3.333e-8; with z up a hollow surface has negative κ.
        const Resultants found = resultants(scene, cell, q);
        EXPECT_LT((found.moment + Vec3(10. / 9, 10. / 9, 1. / 3) * 1e-7).norm(), strained * 1e-7);
        EXPECT_LT(found.shear.norm(), 1e-10);  // 1e-6 of what the moments would need to vary across the patch
    }
}

TEST_P(Patch, ShowsAConstantTwist) {
    ShellScene scene = patch(*GetParam());
    const VecX q = response(scene, twist);
    EXPECT_LT(inner_error(scene, q, twist), solved);
    // M₁₂ = −D (1 − ν) w,xy = −G t³/6 · 1e-3.
    const double moment = -1e6 / 2.5 * 1e-9 / 6 * 1e-3;
    for (std::size_t cell = 0; cell < scene.cells.size(); ++cell)
        EXPECT_LT((resultants(scene, cell, q).moment - Vec3(0, 0, moment)).norm(),
                  strained * std::abs(moment));
}

TEST_P(Patch, ShowsAConstantStateWhereTheWallCouplesStretchAndBending) {
    ShellScene scene = patch(*GetParam());
    // The reference surface a half thickness above the middle.
    scene.wall.block<3, 3>(0, 3) = scene.wall.block<3, 3>(3, 0) = -0.0005 * scene.wall.block<3, 3>(0, 0);
    scene.wall.block<3, 3>(3, 3) += 0.0005 * 0.0005 * scene.wall.block<3, 3>(0, 0);
    const Field both = [](const Vec3& p) { return Vec6(membrane(p) + bending(p)); };
    const VecX q = response(scene, both);
    EXPECT_LT(inner_error(scene, q, both), solved);
}

TEST_P(Patch, HasNoFreedomsWithoutStiffnessButTheSixRigidOnes) {
    ShellScene scene = patch(*GetParam());
    const System system(scene.numbering(), scene.shells());
    Workspace w(system);
    assemble(system, scene.rest, w.gradient, w.sizes, w.tangent);
    const MatX K = w.tangent.dense();
    // Lengths in units of the elements' size, so that turns and displacements compare.
    VecX scale(K.rows());
    for (int i = 0; i < scale.size(); ++i) scale[i] = i % 6 < 3 ? 0.06 : 1;
    const VecX values =
        Eigen::SelfAdjointEigenSolver<MatX>(scale.asDiagonal() * K * scale.asDiagonal()).eigenvalues();
    EXPECT_LT(std::abs(values[5]), 1e-14 * values[values.size() - 1]);
    EXPECT_GT(values[6], 1e-8 * values[values.size() - 1]);  // bending: (t/h)²/12 and a share of it
}

INSTANTIATE_TEST_SUITE_P(Meshes, Patch, ::testing::Values(&quadrilaterals, &mixed),
                         [](const auto& at) { return at.index == 0 ? "Quadrilaterals" : "WithTriangles"; });

}  // namespace
}  // namespace limbwright::testing::shell_patch_test
