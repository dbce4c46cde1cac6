#include "solver/elements/cable_path.hpp"

#include <gtest/gtest.h>

#include <complex>
#include <numbers>

namespace limbwright::solver::cable_path_test {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

constexpr double few_roundings = 1e-13;  // of lengths of order a hundred

/// A wheel about its pole, left along +t (anticlockwise) or −t.
Winding wheel(double radius, double sense, double expected, double anchor) {
    return {std::make_shared<const Groove>(Groove::circle(Vec2::Zero(), radius)), sense, expected, anchor};
}

/// An off-centre wheel, so that every term of the slopes is there.
Winding eccentric(double sense) {
    return {std::make_shared<const Groove>(Groove::circle(Vec2(4, -3), 20)), sense, 0, 0};
}

TEST(StraightRun, IsAsLongAsItsEndsAreApart) {
    const solver::Run run = straight_run<double>({{}, Vec3(1, 2, 3)}, {{}, Vec3(4, 6, 3)});
    EXPECT_DOUBLE_EQ(run.length, 5);
    EXPECT_LT((run.gradient.segment<3>(6) - Vec3(0.6, 0.8, 0)).norm(), 1e-15);  // a rounding
    EXPECT_EQ(Vec3(run.gradient.head<3>()), Vec3(-run.gradient.segment<3>(6)));
}

TEST(StraightRun, ResistsOnlyAcrossItsLine) {
    const solver::Run run = straight_run<double>({}, {{}, Vec3(5, 0, 0)});
    EXPECT_EQ(run.hessian(6, 6), 0);
    EXPECT_DOUBLE_EQ(run.hessian(7, 7), 0.2);
    EXPECT_DOUBLE_EQ(run.hessian(1, 7), -0.2);
}

TEST(StraightRun, DoesNotSeeTheTurnsOfItsEnds) {
    const solver::Run run = straight_run<double>({}, {exp<double>(Vec3(1, 2, 3)), Vec3(5, 1, 2)});
    EXPECT_EQ((run.hessian.middleRows<3>(3).norm() + run.hessian.middleRows<3>(9).norm()), 0);
    EXPECT_EQ((run.gradient.segment<3>(3).norm() + run.gradient.tail<3>().norm()), 0);
}

TEST(SheaveRun, IsTheTangentAndTheArcFromItsAnchor) {
    // Radius 3, target 5 away along u: the tangent is 4 long; leaving along +t it touches at −acos(3/5).
    const double touch = -std::acos(0.6);
    const SheaveRun<double> run = sheave_run(wheel(3, 1, 0, touch - 2), 0, Vec3(5, 0, 0));
    EXPECT_NEAR(run.psi, touch, 1e-15);  // a rounding
    EXPECT_NEAR(run.length, 4 + 3 * 2, few_roundings);
}

TEST(SheaveRun, LeavesOnTheOtherSideWithTheOtherSense) {
    const double touch = std::acos(0.6);
    const SheaveRun<double> run = sheave_run(wheel(3, -1, 0, touch + 2), 0, Vec3(5, 0, 0));
    EXPECT_NEAR(run.psi, touch, 1e-15);  // a rounding
    EXPECT_NEAR(run.length, 4 + 3 * 2, few_roundings);
}

TEST(SheaveRun, TurningTheSheaveCountsWholeTurnsOfArc) {
    const Vec3 target(5, 0, 0);
    const double one = sheave_run(wheel(3, 1, 0, 0), 0, target).length;
    const double next = sheave_run(wheel(3, 1, 2 * pi, 0), 0, target).length;
    EXPECT_NEAR(next - one, 2 * pi * 3, few_roundings);
}

TEST(SheaveRun, AddsTheTurnToTheDirectionItSees) {
    // The groove has turned by 2π with the sheave: in its own axes the target went round once, backward.
    EXPECT_NEAR(sheave_run(wheel(3, 1, 0, 0), 2 * pi, Vec3(5, 0, 0)).psi, -std::acos(0.6) - 2 * pi, 1e-15);
}

TEST(SheaveRun, OutOfThePlaneIsTheHypotenuse) {
    const double touch = -std::acos(0.6);
    const SheaveRun<double> run = sheave_run(wheel(3, 1, 0, touch), 0, Vec3(5, 0, 3));
    EXPECT_NEAR(run.straight, 5, few_roundings);  // 4 in the plane, 3 out of it
    EXPECT_NEAR(run.length, 5, few_roundings);
}

TEST(SheaveRun, InItsPlaneItsSlopeIsAUnitVectorAlongTheTangent) {
    const SheaveRun<double> run = sheave_run(wheel(3, 1, 0, 0), 0, Vec3(5, 0, 0));
    EXPECT_LT((run.slope - Vec3(0.8, 0.6, 0)).norm(), 1e-15);  // a rounding
}

TEST(SheaveRun, ItsSlopeIsThatOfItsLength) {
    const double h = 1e-30;
    for (const double sense : {1., -1.}) {
        const Vec3 p(90, 30, 12);
        const SheaveRun<double> run = sheave_run(eccentric(sense), 0, p);
        for (int i = 0; i < 3; ++i) {
            Vector3<Complex> stepped = p.cast<Complex>();
            stepped[i] += Complex(0, h);
            EXPECT_NEAR(run.slope[i], sheave_run(eccentric(sense), 0., stepped).length.imag() / h,
                        few_roundings);
        }
    }
}

TEST(SheaveRun, IsNotANumberFromInsideTheGroove) {
    EXPECT_TRUE(std::isnan(sheave_run(wheel(3, 1, 0, 0), 0, Vec3(1, 0, 0)).length));
}

TEST(RunToPoint, TurnsTheSheaveByItsLeverArm) {
    // Turning the sheave by its own +w winds the target's side off: the length grows with −(u × p)·w = −h σ …
    // here +3.
    const solver::Run run = run_to_point<double>(wheel(3, 1, 0, 0), 0, {}, {{}, Vec3(5, 0, 0)});
    EXPECT_NEAR(run.gradient[5], -3, few_roundings);
    const solver::Run back = run_to_point<double>(wheel(3, -1, 0, 0), 0, {}, {{}, Vec3(5, 0, 0)});
    EXPECT_NEAR(back.gradient[5], 3, few_roundings);
}

TEST(RunToPoint, HasAHessianWithoutRigidMotions) {
    // Both ends moved alike: the displacement columns cancel.
    const Pose sheave{exp<double>(Vec3(0.1, -0.2, 0.3)), Vec3(1, 2, 3)};
    const solver::Run run = run_to_point<double>(eccentric(1), 0, sheave, {{}, Vec3(90, 30, 12)});
    EXPECT_LT((run.hessian.leftCols<3>() + run.hessian.middleCols<3>(6)).norm(), few_roundings);
    EXPECT_LT((run.hessian - run.hessian.transpose()).norm(), few_roundings);
}

TEST(RunToSheave, AnOpenBeltOnEqualWheelsIsAsLongAsTheyAreApart) {
    // Both touch at ψ = −π/2 and the belt leaves the first along +t = +u, the second along −t.
    const solver::Run run = run_to_sheave<double>(wheel(30, 1, -pi / 2, -pi / 2), 0, {},
                                                  wheel(30, -1, -pi / 2, -pi / 2), 0, {{}, Vec3(100, 0, 0)});
    EXPECT_NEAR(run.length, 100, few_roundings);
}

TEST(RunToSheave, AnOpenBeltOnUnequalWheelsIsTheirTangent) {
    // Straight part √(100² − 60²) = 80; both are touched where n·(100, 0) = 80 − 20, so cos ψ = 0.6.
    const double touch = -std::acos(0.6);
    const solver::Run run = run_to_sheave<double>(wheel(80, 1, touch, touch), 0, {},
                                                  wheel(20, -1, touch, touch), 0, {{}, Vec3(100, 0, 0)});
    EXPECT_NEAR(run.length, 80, few_roundings);
}

TEST(RunToSheave, ACrossedBeltIsTheInnerTangent) {
    // Straight part √(100² − (40 + 40)²) = 60; cos ψ = 0.8 at the first, the opposite normal at the second.
    const double touch = -std::acos(0.8);
    const solver::Run run = run_to_sheave<double>(
        wheel(40, 1, touch, touch), 0, {}, wheel(40, 1, touch + pi, touch + pi), 0, {{}, Vec3(100, 0, 0)});
    EXPECT_NEAR(run.length, 60, few_roundings);
}

TEST(RunToSheave, CountsTheArcsOnBothWheels) {
    const solver::Run run =
        run_to_sheave<double>(wheel(30, 1, -pi / 2, -pi / 2 - 2), 0, {}, wheel(30, -1, -pi / 2, -pi / 2 + 1),
                              0, {{}, Vec3(100, 0, 0)});
    EXPECT_NEAR(run.length, 100 + 30 * 2 + 30 * 1, few_roundings);
}

TEST(RunToSheave, PullsBothWheelsWithOppositeForces) {
    const Pose X1{exp<double>(Vec3(0.05, -0.1, 0.2)), Vec3(1, 2, 3)};
    const Pose X2{exp<double>(Vec3(-0.08, 0.04, 0.1)), Vec3(20, 110, 9)};
    const solver::Run run = run_to_sheave<double>(eccentric(1), 0, X1, eccentric(-1), 0, X2);
    const Vec3 f1 = run.gradient.head<3>(), f2 = run.gradient.segment<3>(6);
    EXPECT_LT((f1 + f2).norm(), few_roundings);
    const Vec3 m1 = X1.rotation * Vec3(run.gradient.segment<3>(3)),
               m2 = X2.rotation * Vec3(run.gradient.tail<3>());
    EXPECT_LT((m1 + m2 + X1.position.cross(f1) + X2.position.cross(f2)).norm(),
              100 * few_roundings);  // lever arms
}

TEST(RunToSheave, IsTheSameFromEitherEnd) {
    const Pose X1{exp<double>(Vec3(0.05, -0.1, 0.2)), Vec3(1, 2, 3)};
    const Pose X2{exp<double>(Vec3(-0.08, 0.04, 0.1)), Vec3(20, 110, 9)};
    const solver::Run there = run_to_sheave<double>(eccentric(1), 0, X1, eccentric(-1), 0, X2);
    const solver::Run back = run_to_sheave<double>(eccentric(-1), 0, X2, eccentric(1), 0, X1);
    EXPECT_NEAR(there.length, back.length, few_roundings);
    EXPECT_LT((there.gradient.head<6>() - back.gradient.tail<6>()).norm(),
              100 * few_roundings);  // lever arms
}

TEST(Exits, LieWhereTheRunTouchesBothWheels) {
    const Pose X1{exp<double>(Vec3(0.05, -0.1, 0.2)), Vec3(1, 2, 3)};
    const Pose X2{exp<double>(Vec3(-0.08, 0.04, 0.1)), Vec3(20, 110, 9)};
    const Winding w1 = eccentric(1), w2 = eccentric(-1);
    const Exits e = exits(w1, 0, X1, w2, 0, X2);
    const auto contact = [](const Winding& w, const Pose& X, double psi) {
        const Vec2 P = w.groove->point(psi);
        return Vec3(X * Vec3(P.x(), P.y(), 0));
    };
    const Vec3 d = contact(w2, X2, e.second) - contact(w1, X1, e.first);
    const auto normal = [](const Pose& X, double psi) {
        return Vec3(X.rotation * Vec3(std::cos(psi), std::sin(psi), 0));
    };
    EXPECT_NEAR(normal(X1, e.first).dot(d), 0, few_roundings);
    EXPECT_NEAR(normal(X2, e.second).dot(d), 0, few_roundings);
}

TEST(Exits, AreNotNumbersWhereTheyAreNotFound) {
    // Wheels that reach through each other's planes: their exits come nearer to each other by too little a
    // round.
    const Pose X2{exp<double>(Vec3(0.16, -0.21, -0.96)), Vec3(-0.8, -35.5, -33.2)};
    const Exits e = exits(eccentric(1), 0, {}, eccentric(1), 0, X2);
    EXPECT_TRUE(std::isnan(e.first) && std::isnan(e.second)) << e.first << " " << e.second;
    EXPECT_TRUE(std::isnan(run_to_sheave<double>(eccentric(1), 0, {}, eccentric(1), 0, X2).length));
}

TEST(Exits, AreFoundAfterManyTurnsToo) {
    // Thirty turns on, an angle is rounded to 3e-14.
    const Pose X1{exp<double>(Vec3(0.05, -0.1, 0.2)), Vec3(1, 2, 3)};
    const Pose X2{exp<double>(Vec3(-0.08, 0.04, 0.1)), Vec3(20, 110, 9)};
    const Exits here = exits(eccentric(1), 0, X1, eccentric(-1), 0, X2);
    const Exits there = exits(eccentric(1), -60 * pi, X1, eccentric(-1), 0, X2);
    EXPECT_NEAR(there.first - here.first, 60 * pi, 1e-12);
    EXPECT_NEAR(there.second, here.second, 1e-12);
}

}  // namespace
}  // namespace limbwright::solver::cable_path_test
