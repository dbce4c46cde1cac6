#include "solver/numbers/algebra.hpp"

#include <gtest/gtest.h>

#include <complex>

namespace limbwright::solver::algebra_test {
namespace {

using Complex = std::complex<double>;

TEST(Algebra, DotDoesNotConjugate) {
    const Vector3<Complex> a(Complex(0, 1), 2, 0), b(Complex(0, 3), 5, 7);
    EXPECT_EQ(dot(a, b), Complex(7, 0));  // i·3i + 2·5 = −3 + 10; conjugated it would be 13
}

TEST(Algebra, CrossDoesNotConjugate) {
    const Vector3<Complex> a(Complex(0, 1), 0, 0), b(0, Complex(0, 1), 0);
    EXPECT_EQ(cross(a, b), Vector3<Complex>(0, 0, -1));
}

TEST(Algebra, CrossOfXAndYIsZ) {
    EXPECT_EQ(cross<double>(Vec3::UnitX(), Vec3::UnitY()), Vec3(Vec3::UnitZ()));
}

TEST(Algebra, SkewIsTheMatrixOfTheCrossProduct) {
    const Vec3 a(1, -2, 3), b(-5, 7, 11);  // whole numbers, so that both ways are exact
    EXPECT_EQ(Vec3(skew(a) * b), cross(a, b));
}

}  // namespace
}  // namespace limbwright::solver::algebra_test
