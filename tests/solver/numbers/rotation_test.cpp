#include "solver/numbers/rotation.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <complex>
#include <numbers>

namespace limbwright::solver::rotation_test {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

const Vec3 axis = Vec3(0.48, -0.6, 0.64);  // a unit vector
constexpr double few_roundings = 1e-15;

TEST(Rotation, AQuarterTurnAboutZTakesXToY) {
    EXPECT_LT((exp<double>(pi / 2 * Vec3::UnitZ()) * Vec3(1, 0, 0) - Vec3(0, 1, 0)).norm(), few_roundings);
}

TEST(Rotation, ItsMatrixDoesWhatItDoes) {
    const Rotation R = exp<double>(Vec3(0.9, -1.3, 0.7));
    const Vec3 x(3, -1, 2);
    EXPECT_LT((R.matrix() * x - R * x).norm(), 4 * few_roundings);  // |x| ≈ 4
}

TEST(Rotation, AProductActsFromTheRight) {
    const Rotation A = exp<double>(Vec3(0.9, -1.3, 0.7)), B = exp<double>(Vec3(-0.2, 2.1, 0.4));
    const Vec3 x(3, -1, 2);
    EXPECT_LT((A * B * x - A * Vec3(B * x)).norm(), 4 * few_roundings);
}

TEST(Rotation, TheInverseTurnsBack) {
    const Rotation R = exp<double>(Vec3(0.9, -1.3, 0.7));
    EXPECT_LT(Vec3((R * R.inverse()).v).norm(), few_roundings);
}

TEST(Rotation, NormalizedHasUnitLength) {
    const Rotation R = Rotation{1.5, Vec3(0.2, -0.4, 2)}.normalized();
    EXPECT_NEAR(R.w * R.w + R.v.squaredNorm(), 1, few_roundings);
}

TEST(Rotation, ExpIsGoodToTheLastDigitOnBothSidesOfItsSwitch) {
    // The series ends at an angle of 0.1.
    for (const double angle : {1e-9, 0.01, 0.0999999, 0.1000001, 0.3, 3.}) {
        const Rotation R = exp<double>(angle * axis);
        const long double half = 0.5L * angle;
        EXPECT_NEAR(R.w, static_cast<double>(std::cos(half)), 2e-16);  // one rounding below one
        EXPECT_NEAR(R.v.norm() / static_cast<double>(std::sin(half)), 1, few_roundings) << angle;
    }
}

TEST(Rotation, LogUndoesExpToTheLastDigit) {
    // Switches: 0.1 in exp, 2 asin 0.2 ≈ 0.4027 in log.
    for (const double angle :
         {1e-150, 1e-12, 1e-5, 0.0999999, 0.1000001, 0.40271, 0.40272, 1., 2., 3., pi - 1e-3, pi - 1e-12}) {
        const Vec3 theta = angle * axis;
        EXPECT_LT((log(exp<double>(theta)) - theta).norm(), few_roundings * angle) << angle;
    }
}

TEST(Rotation, LogGivesTheShorterWayRound) {
    const Vec3 back = log(exp<double>((pi + 0.5) * axis));
    EXPECT_LT((back + (pi - 0.5) * axis).norm(), 3 * few_roundings);
}

TEST(Rotation, LogIsTheSameForBothQuaternionsOfARotation) {
    for (const double angle : {0.2, 2.5}) {
        const Rotation R = exp<double>(angle * axis);
        EXPECT_EQ(log(R), log(Rotation{-R.w, -R.v}));
    }
}

TEST(Rotation, LogOfHalfATurnHasLengthPi) {
    EXPECT_NEAR(log(Rotation{0, axis}).norm(), pi, 4e-16);  // one rounding of π
}

TEST(Rotation, LogOfATurnFromZeroHasTheIdentityAsItsSlope) {
    const double h = 1e-30;
    for (int i = 0; i < 3; ++i) {
        const Vector3<Complex> step = Complex(0, h) * Vec3::Unit(i).cast<Complex>();
        const Vector3<Complex> turned = log(exp<Complex>(step));
        EXPECT_LT((turned.imag() / h - Vec3::Unit(i)).norm(), few_roundings);
    }
}

/// S = ∫ exp(u φ) du over −1/2 … 1/2 by Gauss's rule with three points on each of 64 parts: rest ≈
/// (|φ|/64)⁶/2e6.
Mat3 mean_rotation(const Vec3& phi) {
    const int parts = 64;
    const double point[3] = {-0.5 * std::sqrt(0.6), 0, 0.5 * std::sqrt(0.6)},
                 weight[3] = {5. / 18, 8. / 18, 5. / 18};
    Mat3 S = Mat3::Zero();
    for (int k = 0; k < parts; ++k)
        for (int i = 0; i < 3; ++i)
            S += weight[i] / parts * exp<double>(((k + 0.5 + point[i]) / parts - 0.5) * phi).matrix();
    return S;
}

TEST(MidMap, InvertsTheMeanOfTheRotationsAlongASegment) {
    for (const double angle : {0.01, 1., 1.5, 3.}) {
        const Vec3 phi = angle * axis;
        const MidMap<double> m = mid_map(phi.squaredNorm());
        const Mat3 inverse = m.a * Mat3::Identity() + m.b * phi * phi.transpose();
        EXPECT_LT((inverse * mean_rotation(phi) - Mat3::Identity()).norm(), 1e-14)
            << angle;  // sum of 192 terms
    }
}

TEST(MidMap, StartsWithTheKnownCoefficients) {
    // y/sin y = 1 + y²/6 + 7y⁴/360 + 31y⁶/15120 + …, y² = s/4 (Abramowitz & Stegun 4.3.68).
    const MidMap<double> m = mid_map(0.);
    EXPECT_EQ(m.a, 1);
    EXPECT_NEAR(m.a1, 1. / 24, 1e-17);
    EXPECT_NEAR(m.a2, 2 * 7. / 5760, 1e-18);
    EXPECT_NEAR(m.b, -1. / 24, 1e-17);
    EXPECT_NEAR(m.b1, -7. / 5760, 1e-18);
    EXPECT_NEAR(m.b2, -2 * 31. / 967680, 1e-15 * 31. / 483840);
}

TEST(MidMap, IsGoodToTheLastDigitOnBothSidesOfItsSwitch) {
    for (const double s : {0.5, 1.999999, 2.000001, 5., 9.}) {
        const long double y = 0.5L * std::sqrt(static_cast<long double>(s)), a = y / std::sin(y);
        EXPECT_NEAR(mid_map(s).a, static_cast<double>(a), few_roundings) << s;
        EXPECT_NEAR(mid_map(s).b, static_cast<double>((1 - a) / s), few_roundings) << s;
    }
}

TEST(MidMap, IsContinuousAtItsSwitch) {
    const MidMap<double> below = mid_map(std::nextafter(2., 0.)), above = mid_map(2.);
    EXPECT_NEAR(below.a, above.a, few_roundings);
    EXPECT_NEAR(below.a1, above.a1, few_roundings);
    EXPECT_NEAR(below.a2, above.a2, few_roundings);
    EXPECT_NEAR(below.b, above.b, few_roundings);
    EXPECT_NEAR(below.b1, above.b1, few_roundings);
    EXPECT_NEAR(below.b2, above.b2, few_roundings);
}

TEST(MidMap, GivesTheDerivativesOfItsOwnCoefficients) {
    const double h = 1e-30;
    for (const double s : {0., 1e-8, 0.3, 1.999999, 2.000001, 6., 9.8}) {
        const MidMap<double> m = mid_map(s);
        const MidMap<Complex> stepped = mid_map(Complex(s, h));
        const double roundings = 1e-14;  // near |φ| = π the closed form's terms exceed their sums a few times
        EXPECT_NEAR(m.a1, stepped.a.imag() / h, roundings) << s;
        EXPECT_NEAR(m.a2, stepped.a1.imag() / h, roundings) << s;
        EXPECT_NEAR(m.b1, stepped.b.imag() / h, roundings) << s;
        EXPECT_NEAR(m.b2, stepped.b1.imag() / h, roundings) << s;
    }
}

}  // namespace
}  // namespace limbwright::solver::rotation_test
