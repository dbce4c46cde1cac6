#include "solver/numbers/dual.hpp"

#include <gtest/gtest.h>

#include <complex>

#include "solver/numbers/algebra.hpp"

namespace limbwright::solver::dual_test {
namespace {

using Complex = std::complex<double>;
using D = Dual<double, 2>;

/// Expects value and both slopes of f(x, y) at (0.7, 1.9) to be those of complex steps.
template <class F>
void expect_slopes_of_complex_steps(const F& f) {
    const double x = 0.7, y = 1.9, h = 1e-30;
    const D dual = f(D(x, D::Slope(1, 0)), D(y, D::Slope(0, 1)));
    const double by_x = f(Complex(x, h), Complex(y)).imag() / h;
    const double by_y = f(Complex(x), Complex(y, h)).imag() / h;
    const double few_roundings = 1e-15;
    EXPECT_NEAR(dual.value, f(Complex(x), Complex(y)).real(), few_roundings);
    EXPECT_NEAR(dual.slope[0], by_x, few_roundings);
    EXPECT_NEAR(dual.slope[1], by_y, few_roundings);
}

TEST(Dual, SumsAndDifferencesCarryTheirSlopes) {
    expect_slopes_of_complex_steps([](auto x, auto y) { return x + y; });
    expect_slopes_of_complex_steps([](auto x, auto y) { return x - y; });
    expect_slopes_of_complex_steps([](auto x, auto y) { return -(x + 3.) - (2. - y) + (1. + x) - (y - 4.); });
}

TEST(Dual, ProductsAndQuotientsCarryTheirSlopes) {
    expect_slopes_of_complex_steps([](auto x, auto y) { return x * y; });
    expect_slopes_of_complex_steps([](auto x, auto y) { return x / y; });
    expect_slopes_of_complex_steps([](auto x, auto y) { return 3. * x + y * 0.2 - x / 7.; });
}

TEST(Dual, FunctionsCarryTheirSlopes) {
    expect_slopes_of_complex_steps([](auto x, auto y) { return sqrt(x * y); });
    expect_slopes_of_complex_steps([](auto x, auto y) { return sin(x * y); });
    expect_slopes_of_complex_steps([](auto x, auto y) { return cos(x * y); });
}

TEST(Dual, CompoundAssignmentsDoWhatTheirOperatorsDo) {
    expect_slopes_of_complex_steps([](auto x, auto y) {
        auto z = x;
        z += y;
        z *= x;
        z -= y;
        return z;
    });
}

TEST(Dual, MayMeetItselfOnBothSidesOfAnAssignment) {
    D x(3, D::Slope(1, 0));
    x *= x;
    EXPECT_EQ(x.value, 9);
    EXPECT_EQ(x.slope[0], 6);
}

TEST(Dual, ANumberIsADualWithoutSlope) {
    const D real(2.5), whole(3);
    EXPECT_EQ(real.value, 2.5);
    EXPECT_EQ(whole.value, 3);
    EXPECT_TRUE((real.slope == 0).all() && (whole.slope == 0).all());
}

TEST(Dual, OfComplexNumbersGivesSecondDerivatives) {
    using C = Dual<Complex, 1>;
    const double h = 1e-30;
    const C x(Complex(0.7, h), C::Slope::Ones());
    EXPECT_NEAR(sin(x).slope[0].imag() / h, -std::sin(0.7), 1e-16);  // one rounding
}

TEST(Dual, WorksAsAnEigenScalar) {
    const Vector3<D> a(D(1, D::Slope(1, 0)), D(2), D(3)), b(D(5), D(7, D::Slope(0, 1)), D(11));
    EXPECT_EQ(dot(a, b).value, 52);
    EXPECT_EQ(dot(a, b).slope[0], 5);
    EXPECT_EQ(dot(a, b).slope[1], 2);
    EXPECT_EQ(Vector3<D>(a + 2. * b)[1].value, 16);
}

TEST(Dual, RealPartIsThatOfItsValue) {
    EXPECT_EQ(real_part(D(2.5, D::Slope(1, 0))), 2.5);
    EXPECT_EQ(real_part(Dual<Complex, 1>(Complex(2.5, 7))), 2.5);
}

}  // namespace
}  // namespace limbwright::solver::dual_test
