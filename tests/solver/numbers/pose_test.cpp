#include "solver/numbers/pose.hpp"

#include <gtest/gtest.h>

#include <complex>
#include <numbers>

namespace limbwright::solver::pose_test {
namespace {

const Pose A{exp<double>(Vec3(0.9, -1.3, 0.7)), Vec3(3, -2, 5)};
const Pose B{exp<double>(Vec3(-0.2, 2.1, 0.4)), Vec3(-1, 4, 2)};
constexpr double few_roundings = 1e-14;  // of positions of order ten

double distance(const Pose& X, const Pose& Y) {
    return (X.position - Y.position).norm() + log(X.rotation.inverse() * Y.rotation).norm();
}

TEST(Pose, TurnsFirstAndMovesThen) {
    const Pose X{exp<double>(std::numbers::pi / 2 * Vec3::UnitZ()), Vec3(10, 0, 0)};
    EXPECT_LT((X * Vec3(1, 2, 3) - Vec3(8, 1, 3)).norm(), few_roundings);
}

TEST(Pose, AProductActsFromTheRight) {
    const Vec3 x(1, 2, 3);
    EXPECT_LT((A * B * x - A * Vec3(B * x)).norm(), few_roundings);
}

TEST(Pose, TheInverseBringsBack) {
    EXPECT_LT(distance(A * A.inverse(), {}), few_roundings);
    EXPECT_LT(distance(A.inverse() * A, {}), few_roundings);
}

TEST(Pose, RotationFromAMatrixIsThatMatrix) {
    for (const double angle : {0.3, 3.14}) {
        const Mat3 R = exp<double>(angle * Vec3(0.48, -0.6, 0.64)).matrix();
        EXPECT_LT((rotation_from(R).matrix() - R).norm(), 2e-15);  // nine entries, a few roundings each
    }
}

TEST(Pose, CastKeepsTheNumbers) {
    const PoseOf<std::complex<double>> C = cast<std::complex<double>>(A);
    EXPECT_EQ(Vec3(C.position.real()), A.position);
    EXPECT_EQ(Vec3(C.rotation.v.real()), A.rotation.v);
    EXPECT_EQ(C.rotation.w, std::complex<double>(A.rotation.w));
}

TEST(Pose, LogUndoesExp) {
    for (const double turn : {0., 1e-9, 0.01, 1., 1.5, 3.1}) {
        Vec6 xi;
        xi << 7, -3, 2, turn * Vec3(0.48, -0.6, 0.64);
        EXPECT_LT((log_pose(exp_pose(xi)) - xi).norm(), few_roundings) << turn;
    }
}

TEST(Pose, ExpUndoesLog) {
    EXPECT_LT(distance(exp_pose(log_pose(A)), A), few_roundings);
    EXPECT_LT(distance(exp_pose(log_pose(B)), B), few_roundings);
}

TEST(Pose, AConstantCurvatureEndsOnItsCircle) {
    for (const double angle : {0.001, 0.5, 1.5, 3.}) {
        const double radius = 20;
        Vec6 xi;
        xi << radius * angle, 0, 0, 0, 0, angle;  // along x, bent about z
        const Pose end = exp_pose(xi);
        // 2 sin² of the half: 1 − cos loses its digits for the small angle.
        const Vec3 on_circle(radius * std::sin(angle), 2 * radius * std::pow(std::sin(angle / 2), 2), 0);
        EXPECT_LT((end.position - on_circle).norm(), few_roundings) << angle;
        EXPECT_LT((log(end.rotation) - Vec3(0, 0, angle)).norm(), few_roundings) << angle;
    }
}

TEST(Pose, TwoPartsOfAConstantStrainMakeTheWhole) {
    Vec6 xi;
    xi << 7, -3, 2, 0.9, -1.1, 0.6;
    EXPECT_LT(distance(exp_pose(0.3 * xi) * exp_pose(0.7 * xi), exp_pose(xi)), few_roundings);
}

}  // namespace
}  // namespace limbwright::solver::pose_test
