#include "models/parts/limb_stiffness.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::limb_stiffness_test {
namespace {

using solver::Lamina;

constexpr double rounding = 1e-12;

TEST(LaminaOf, AMetalIsAlikeInAllDirections) {
    const Lamina lamina = lamina_of({70000, 26000});
    EXPECT_EQ(lamina.across, 70000);
    EXPECT_EQ(lamina.shear_13, 26000);
    EXPECT_EQ(lamina.shear_23, 26000);
    EXPECT_NEAR(lamina.poisson, 70. / 52 - 1, rounding);
}

TEST(LaminaOf, ModuliThatNoIsotropicMaterialHasAreAUnidirectionalLaminates) {
    const Lamina lamina = lamina_of({42000, 4200});
    EXPECT_EQ(lamina.along, 42000);
    EXPECT_EQ(lamina.across, 2.5 * 4200);
    EXPECT_EQ(lamina.poisson, 0.27);
    EXPECT_EQ(lamina.shear_13, 4200);
    EXPECT_EQ(lamina.shear_23, 2.5 * 4200 / 2.8);
}

TEST(LaminaOf, TakesWhatTheMaterialGives) {
    Material material{42000, 4200};
    material.across = 9000;
    material.poisson = 0.3;
    const Lamina lamina = lamina_of(material);
    EXPECT_EQ(lamina.across, 9000);
    EXPECT_EQ(lamina.poisson, 0.3);
    EXPECT_EQ(lamina.shear_23, 9000 / 2.8);
}

/// Carbon on both faces, something light between them that fills the limb.
Limb laminated() {
    const Lamina carbon{130000, 9000, 0.28, 5000, 5000, 3200}, light{3000, 3000, 0.3, 1150, 1150, 1150};
    Limb limb = testing::small_bow().limb;
    limb.plies = {{carbon, "carbon", 0, 0.5}, {light, "light", 0, {}}, {carbon, "carbon", 0.2, 0.7}};
    return limb;
}

TEST(LimbStiffness, TheCoreFillsWhatTheOtherPliesLeave) {
    const solver::Laminate laminate = limb_stiffness(laminated(), 50).laminate(8);
    ASSERT_EQ(laminate.size(), 3u);
    EXPECT_EQ(laminate[0].thickness, 0.5);
    EXPECT_NEAR(laminate[1].thickness, 6.8, rounding);
    EXPECT_EQ(laminate[2].thickness, 0.7);
    EXPECT_EQ(laminate[2].angle, 0.2);
    EXPECT_EQ(laminate[0].lamina.along, 130000);
}

TEST(LimbStiffness, OfPliesIsInProportionToTheDeflectionNumber) {
    const Limb limb = laminated();
    const LimbStiffness reference = limb_stiffness(limb, 50), stiffer = limb_stiffness(limb, 60);
    EXPECT_NEAR(
        (stiffer.section(24, 8) - 1.2 * reference.section(24, 8)).norm() / reference.section(24, 8).norm(), 0,
        rounding);
    EXPECT_NEAR(stiffer.moduli.young / reference.moduli.young, 1.2, rounding);
}

TEST(LimbStiffness, OfPliesMeetsAMeasuredSpringRate) {
    Limb limb = laminated();
    limb.spring_rate = 6.5;
    const auto rate = [&](double number) {
        const LimbStiffness stiffness = limb_stiffness(limb, number);
        return flatwise_rate(limb_strip(limb), [&](const meshes::StripStation& s) {
            return stiffness.section(s.width, s.thickness);
        });
    };
    EXPECT_NEAR(rate(50), 6.5, 6.5 * rounding);
    EXPECT_NEAR(rate(55), 1.1 * 6.5, 6.5 * rounding);
}

TEST(LimbStiffness, HasTheModuliOfARectangleAsStiffAtTheRoot) {
    const Limb limb = laminated();
    const LimbStiffness stiffness = limb_stiffness(limb, 50);
    const LimbStation& root = limb.stations.front();
    const solver::Mat6 soft = stiffness.section(root.width, root.thickness).inverse();
    const solver::Mat6 plain = rectangle(stiffness.moduli, root.width, root.thickness).inverse();
    EXPECT_NEAR(plain(4, 4) / soft(4, 4), 1, rounding);
    EXPECT_NEAR(plain(3, 3) / soft(3, 3), 1, rounding);
}

TEST(LimbStiffness, AMeasuredSpringRateKeepsTheMaterialsRatioAcross) {
    Limb limb = testing::small_bow().limb;
    limb.material.across = 12600;
    limb.spring_rate = 6.5;
    const Lamina lamina = limb_stiffness(limb, 50).lamina;
    EXPECT_NEAR(lamina.across / lamina.along, 0.3, rounding);
}

constexpr double width = 24, thickness = 8;

TEST(SectionNear, WithoutHeldEndsIsTheSection) {
    const LimbStiffness stiffness = limb_stiffness(laminated(), 50);
    EXPECT_EQ(stiffness.section_near({}, width, thickness), stiffness.section(width, thickness));
}

TEST(SectionNear, FarFromItsEndsIsTheSection) {
    const LimbStiffness stiffness = limb_stiffness(testing::small_bow().limb, 50);
    const double ends[] = {300, 400};  // some thirty times as far as warping reaches
    const solver::Mat6 far = stiffness.section_near(ends, width, thickness);
    EXPECT_LT((far - stiffness.section(width, thickness)).norm(), 1e-10 * far.norm());
}

TEST(SectionNear, AnEndStiffensItAgainstTwistAlone) {
    const LimbStiffness stiffness = limb_stiffness(laminated(), 50);
    const double ends[] = {3};
    solver::Mat6 change =
        stiffness.section_near(ends, width, thickness) - stiffness.section(width, thickness);
    EXPECT_GT(change(3, 3), 0.5 * stiffness.section(width, thickness)(3, 3));
    change(3, 3) = 0;
    EXPECT_EQ(change.norm(), 0);
}

TEST(SectionNear, ABarWithBothEndsHeldTwistsAsIfItWereShorter) {
    const LimbStiffness stiffness = limb_stiffness(testing::small_bow().limb, 50);
    const solver::Moduli& m = stiffness.moduli;
    const double J = solver::torsion_constant(width, thickness), length = 320;
    const double mu = 1 - J * m.shear / stiffness.polar_stiffness(width, thickness);
    // Shorter by this at either end.
    const double lost = std::sqrt(mu * m.young * solver::warping_constant(width, thickness) / (m.shear * J));
    constexpr int pieces = 2000;  // midpoint rule: pieces of a fiftieth of the reach
    double twist = 0;             // per torque
    for (int i = 0; i < pieces; ++i) {
        const double s = length * (i + 0.5) / pieces;
        const double ends[] = {s, length - s};
        twist += length / pieces / stiffness.section_near(ends, width, thickness)(3, 3);
    }
    EXPECT_GT(lost, 0.25 * width);
    EXPECT_NEAR(twist * m.shear * J, length - 2 * lost, 1e-3 * length);
}

TEST(PolarStiffness, OfARectangleIsTheShearModulusTimesItsPolarMoment) {
    const LimbStiffness stiffness = limb_stiffness(testing::small_bow().limb, 50);
    EXPECT_NEAR(stiffness.polar_stiffness(24, 8) / (4200 * 24. * 8 * (576 + 64) / 12), 1, rounding);
}

TEST(PolarStiffness, OfPliesIsMoreThanTheirTorsionalStiffness) {
    const LimbStiffness stiffness = limb_stiffness(laminated(), 50);
    for (const double w : {8., 24., 60.})
        EXPECT_GT(stiffness.polar_stiffness(w, 8), 1.1 / stiffness.section(w, 8).inverse()(3, 3));
}

TEST(PolarStiffness, OfEqualPliesIsThatOfTheirMaterial) {
    Limb limb = testing::small_bow().limb;
    const double plain = limb_stiffness(limb, 50).polar_stiffness(24, 8);
    limb.plies = {{lamina_of(limb.material), "glass", 0, 3}, {lamina_of(limb.material), "glass", 0, {}}};
    EXPECT_NEAR(limb_stiffness(limb, 50).polar_stiffness(24, 8) / plain, 1, rounding);
}

TEST(RiserLaminate, HasTheFillInItsStiffness) {
    Riser riser = testing::small_bow().riser;
    riser.fill = 0.6;
    const solver::Laminate laminate = riser_laminate(riser, 30);
    ASSERT_EQ(laminate.size(), 1u);
    EXPECT_EQ(laminate[0].thickness, 30);
    EXPECT_NEAR(laminate[0].lamina.along, 0.6 * 70000, 1e-9);
    EXPECT_NEAR(laminate[0].lamina.shear_13, 0.6 * 26000, 1e-9);
}

}  // namespace
}  // namespace limbwright::models::limb_stiffness_test
