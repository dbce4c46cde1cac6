#include "solver/elements/section.hpp"

#include <gtest/gtest.h>

#include <numbers>

namespace limbwright::solver::section_test {
namespace {

TEST(Section, TorsionConstantOfASquareIsThePublishedOne) {
    // J = 0.1406 a⁴ (Timoshenko & Goodier, Theory of Elasticity, table of k1); last figure ± 0.5.
    EXPECT_NEAR(torsion_constant(1, 1), 0.1406, 0.00005);
}

TEST(Section, TorsionConstantOfATwoToOneRectangleIsThePublishedOne) {
    // J = 0.229 b t³ for b = 2t (same table); last figure ± 0.5.
    EXPECT_NEAR(torsion_constant(2, 1) / 2, 0.229, 0.0005);
}

TEST(Section, TorsionConstantOfAThinStripLosesItsTwoEnds) {
    // J → b t³/3 (1 − 0.63025 t/b), exact but for exp(−π b/t); 0.63025 to half its last figure.
    EXPECT_NEAR(torsion_constant(50, 1), 50. / 3 * (1 - 0.63025 / 50), 50. / 3 * 0.000005 / 50);
}

TEST(Section, TorsionConstantIsTheSumOfItsSeriesToTheLastDigits) {
    for (const double b : {1., 1.5, 4., 30.}) {
        double sum = 0;
        for (int n = 20001; n >= 1; n -= 2)  // rest < 1e-18
            sum += std::tanh(n * std::numbers::pi * b / 2) / std::pow(n, 5);
        const double series = b / 3 * (1 - 192 / (std::pow(std::numbers::pi, 5) * b) * sum);
        EXPECT_NEAR(torsion_constant(b, 1), series, 1e-15 * b) << b;  // a few roundings
    }
}

TEST(Section, TorsionConstantDoesNotAskWhichSideIsWider) {
    EXPECT_EQ(torsion_constant(24, 7), torsion_constant(7, 24));
}

TEST(Section, WarpingConstantOfASquareIsThatOfItsSeries) {
    // Computed: 2000 terms of the series give 1.34402e-4 b⁶.
    EXPECT_NEAR(warping_constant(10, 10) / 1e6, 1.34402e-4, 0.00001e-4);
}

TEST(Section, WarpingConstantOfANarrowStripIsThatOfItsTwistedMiddle) {
    // ψ = −yz but for the edges, which leave 5e-6 of it here.
    EXPECT_NEAR(warping_constant(1000, 1) / (1e9 / 144), 1, 1e-5);
}

TEST(Section, WarpingConstantDoesNotAskWhichSideIsWider) {
    EXPECT_NEAR(warping_constant(24, 7) / warping_constant(7, 24), 1, 1e-6);  // the series' rest
}

TEST(Section, ARectangleBendsFlatwiseAboutItsSecondAxis) {
    const Mat6 C = rectangle({.young = 40000, .shear = 4000}, 24, 7);
    EXPECT_DOUBLE_EQ(C(0, 0), 40000. * 24 * 7);
    EXPECT_DOUBLE_EQ(C(1, 1), 5. / 6 * 4000 * 24 * 7);
    EXPECT_DOUBLE_EQ(C(2, 2), C(1, 1));
    EXPECT_DOUBLE_EQ(C(3, 3), 4000 * torsion_constant(24, 7));
    EXPECT_DOUBLE_EQ(C(4, 4), 40000. * 24 * 343 / 12);
    EXPECT_DOUBLE_EQ(C(5, 5), 40000. * 7 * 13824 / 12);
    EXPECT_EQ((C - Mat6(C.diagonal().asDiagonal())).norm(), 0);
}

TEST(Section, ACircleIsAsStiffInEveryDirection) {
    using std::numbers::pi;
    const Mat6 C = circle({.young = 200000, .shear = 80000}, 10);
    EXPECT_DOUBLE_EQ(C(0, 0), 200000 * pi * 25);
    EXPECT_DOUBLE_EQ(C(1, 1), 6. / 7 * 80000 * pi * 25);
    EXPECT_DOUBLE_EQ(C(2, 2), C(1, 1));
    EXPECT_DOUBLE_EQ(C(3, 3), 80000 * pi * 1e4 / 32);
    EXPECT_DOUBLE_EQ(C(4, 4), 200000 * pi * 1e4 / 64);
    EXPECT_DOUBLE_EQ(C(5, 5), C(4, 4));
}

}  // namespace
}  // namespace limbwright::solver::section_test
