#include "solver/elements/laminate.hpp"

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/support/complaint.hpp"

namespace limbwright::solver::laminate_test {
namespace {

using testing::complaint;
using Mat4 = Eigen::Matrix4d;

constexpr double degree = std::numbers::pi / 180;
constexpr double rounding = 1e-12;  // a few thousand ulps of the largest entry: two inverses and their sums
constexpr double printed = 5e-7;    // seven figures are given: at most half of the last one

// Stresses of the published examples are in MPa, lengths in mm; G₁₃ and G₂₃, which no in-plane value knows,
// are invented.
const Lamina kaw{
    .along = 181e3, .across = 10.3e3, .poisson = 0.28, .shear = 7170, .shear_13 = 7170, .shear_23 = 4000};
const Lamina hyer{
    .along = 155e3, .across = 12.1e3, .poisson = 0.248, .shear = 4400, .shear_13 = 4400, .shear_23 = 4200};
const Lamina glass{
    .along = 45e3, .across = 12e3, .poisson = 0.26, .shear = 4500, .shear_13 = 4500, .shear_23 = 4200};
const Lamina steel = isotropic({.young = 200e3, .shear = 80e3});

/// Plies of one lamina, all of one thickness, angles in degrees from the bottom up.
Laminate plies(const Lamina& lamina, double thickness, const std::vector<double>& angles) {
    Laminate laminate;
    for (const double angle : angles) laminate.push_back({lamina, angle * degree, thickness});
    return laminate;
}

Laminate turned(Laminate laminate, double angle) {
    for (Ply& ply : laminate) ply.angle += angle;
    return laminate;
}

const Laminate kaw_example = plies(kaw, 5, {0, 30, -45});
const Laminate unbalanced = {
    {glass, 20 * degree, 0.7}, {hyer, -50 * degree, 0.3}, {kaw, 75 * degree, 0.9}, {steel, 0, 0.2}};

void expect_close(const MatX& found, const MatX& wanted, double relative) {
    EXPECT_LE((found - wanted).cwiseAbs().maxCoeff(), relative * wanted.cwiseAbs().maxCoeff())
        << "found\n"
        << found << "\nwanted\n"
        << wanted;
}

/// Entries as 11, 12, 16, 22, 26, 66.
Mat3 symmetric(double s11, double s12, double s16, double s22, double s26, double s66) {
    Mat3 m;
    m << s11, s12, s16, s12, s22, s26, s16, s26, s66;
    return m;
}

Mat3 membrane(const WallStiffness& C) {
    return C.block<3, 3>(0, 0);
}
Mat3 coupling(const WallStiffness& C) {
    return C.block<3, 3>(0, 3);
}
Mat3 bending(const WallStiffness& C) {
    return C.block<3, 3>(3, 3);
}
Eigen::Matrix2d transverse(const WallStiffness& C) {
    return C.block<2, 2>(6, 6);
}

Mat6 compliance(const Laminate& laminate, double width) {
    return laminate_section(laminate, width).inverse();
}

// Kaw, Mechanics of Composite Materials, chapter 4, worked example; here to seven figures, computed by the
// transformation of matrices (the book prints four). N/m, N and N m turned into N/mm, N and N mm.
TEST(Laminate, StiffnessesOfAnUnsymmetricLaminateAreThePublishedOnes) {
    const WallStiffness C = wall_stiffness(kaw_example);
    const Mat3 A = 1e-3 * symmetric(1.739241e9, 3.883864e8, 5.663373e7, 4.532535e8, -1.140636e8, 4.524825e8);
    const Mat3 B = symmetric(-3.128834e6, 9.855216e5, -1.071656e6, 1.157791e6, -1.071656e6, 9.855216e5);
    const Mat3 D = 1e3 * symmetric(3.343203e4, 6.460977e3, -5.240294e3, 9.319771e3, -5.595913e3, 7.662780e3);
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            EXPECT_NEAR(membrane(C)(i, j), A(i, j), printed * std::abs(A(i, j)));
            EXPECT_NEAR(coupling(C)(i, j), B(i, j), printed * std::abs(B(i, j)));
            EXPECT_NEAR(bending(C)(i, j), D(i, j), printed * std::abs(D(i, j)));
        }
}

TEST(Laminate, StrainsOfAnUnsymmetricLaminateUnderTensionAreThePublishedOnes) {
    // Same example, N₁₁ = N₂₂ = 1000 N/m.
    Vec6 load, strain;
    load << 1, 1, 0, 0, 0, 0;
    strain << 3.122948e-7, 3.491705e-6, -7.598445e-7, 2.971437e-8, -3.285024e-7, 4.101467e-7;
    const Vec6 found = wall_stiffness(kaw_example).topLeftCorner<6, 6>().inverse() * load;
    for (int i = 0; i < 6; ++i) EXPECT_NEAR(found[i], strain[i], printed * std::abs(strain[i]));
}

TEST(Laminate, StressAtAPlysLowerFaceIsThePublishedOne) {
    // Same example: the second ply at z = -2.5 mm in the wall's axes, turned by hand out of the fibre axes.
    const Vec3 strain(3.122948e-7, 3.491705e-6, -7.598445e-7),
        curvature(2.971437e-8, -3.285024e-7, 4.101467e-7);
    const Vec3 s = ply_states(kaw_example, strain, curvature)[1].stress[0];
    const double C = std::cos(60 * degree), S = std::sin(60 * degree);
    const double mean = (s[0] + s[1]) / 2, half = (s[0] - s[1]) / 2;
    const double tolerance = 3e-6 * 0.07;  // strains of seven figures, some of which cancel
    EXPECT_NEAR(mean + half * C - s[2] * S, 6.929709e-2, tolerance);
    EXPECT_NEAR(mean - half * C + s[2] * S, 7.391414e-2, tolerance);
    EXPECT_NEAR(half * S + s[2] * C, 3.380758e-2, tolerance);
}

TEST(Laminate, PlyStressesAddUpToForcesAndMoments) {
    // Stress is linear within a ply; zero-degree plies need no turning. Simpson's rule of z σ is exact.
    const Laminate laminate = {{glass, 0, 1.2}, {steel, 0, 0.4}, {hyer, 0, 0.9}};
    const Vec3 strain(1e-3, -2e-4, 5e-4), curvature(3e-4, 1e-4, -6e-4);
    Vec3 force = Vec3::Zero(), moment = Vec3::Zero();
    double z = -thickness(laminate) / 2;
    const auto states = ply_states(laminate, strain, curvature);
    for (std::size_t i = 0; i < laminate.size(); ++i) {
        const double t = laminate[i].thickness;
        const Vec3 middle = (states[i].stress[0] + states[i].stress[1]) / 2;
        force += t * middle;
        moment +=
            t / 6 * (z * states[i].stress[0] + 4 * (z + t / 2) * middle + (z + t) * states[i].stress[1]);
        z += t;
    }
    const WallStiffness C = wall_stiffness(laminate);
    expect_close(force, membrane(C) * strain + coupling(C) * curvature, rounding);
    expect_close(moment, coupling(C) * strain + bending(C) * curvature, rounding);
}

TEST(Laminate, StrainAcrossTheFibresOfAPlyAtRightAnglesIsTheWallsAlong) {
    const PlyState state = ply_states(plies(glass, 2, {90}), {1, 2, 3}, {10, 20, 30})[0];
    // ε + z κ at z = -1 and 1 is (-9, -18, -27) and (11, 22, 33); axis 1 of the ply is the wall's 2, its 2
    // the wall's -1.
    expect_close(state.strain[0], Vec3(-18, -9, 27), rounding);
    expect_close(state.strain[1], Vec3(22, 11, -33), rounding);
}

// Hyer's material (Stress Analysis of Fiber-Reinforced Composite Materials), 0.150 mm plies; values computed
// as above.
TEST(Laminate, StiffnessesOfACrossPlyAreThePublishedOnes) {
    const WallStiffness C = wall_stiffness(plies(hyer, 0.15, {0, 90, 90, 0}));
    expect_close(membrane(C), 1e-3 * symmetric(5.037185e7, 1.809166e6, 0, 5.037185e7, 0, 2.64e6), printed);
    expect_close(bending(C), 1e3 * symmetric(2.480384, 5.427499e-2, 0, 5.419269e-1, 0, 7.92e-2), printed);
}

TEST(Laminate, StiffnessesOfASymmetricAnglePlyAreTheComputedOnes) {
    const WallStiffness C = wall_stiffness(plies(hyer, 0.15, {30, 0, 0, 30}));
    expect_close(membrane(C),
                 1e-3 * symmetric(7.456396e7, 9.924669e6, 1.401189e7, 9.948728e6, 4.640918e6, 1.075550e7),
                 printed);
    expect_close(bending(C),
                 1e3 * symmetric(1.812013, 4.803389e-1, 7.356244e-1, 3.581702e-1, 2.436482e-1, 5.052639e-1),
                 printed);
}

TEST(Laminate, AnAntisymmetricAnglePlyCouplesStretchWithTwistAlone) {
    const WallStiffness C = wall_stiffness(plies(hyer, 0.15, {30, -30}));
    expect_close(membrane(C), 1e-3 * symmetric(2.783963e7, 9.020086e6, 0, 6.301216e6, 0, 9.435503e6),
                 printed);
    expect_close(coupling(C), symmetric(0, 0, -1.050892e3, 0, -3.480689e2, 0), printed);
    expect_close(bending(C), 1e3 * symmetric(2.087972e-1, 6.765065e-2, 0, 4.725912e-2, 0, 7.076627e-2),
                 printed);
}

TEST(Laminate, ASymmetricLaminateDoesNotCoupleStretchWithBending) {
    const WallStiffness C = wall_stiffness(plies(kaw, 0.3, {20, -70, 35, 35, -70, 20}));
    EXPECT_LE(coupling(C).cwiseAbs().maxCoeff(), rounding * C.maxCoeff());
}

TEST(Laminate, AHomogeneousWallHasFiveSixthsOfItsShearStiffness) {
    const double h = 3, c = std::cos(25 * degree), s = std::sin(25 * degree);
    Eigen::Matrix2d G;
    G << c * c * glass.shear_13 + s * s * glass.shear_23, c * s * (glass.shear_13 - glass.shear_23),
        c * s * (glass.shear_13 - glass.shear_23), s * s * glass.shear_13 + c * c * glass.shear_23;
    expect_close(transverse(wall_stiffness(plies(glass, h, {25}))), 5. / 6 * h * G, rounding);
}

TEST(Laminate, CuttingAPlyInTwoChangesNothing) {
    Laminate cut = unbalanced;
    cut[0].thickness = 0.3;
    cut.insert(cut.begin(), cut[0]);
    cut[0].thickness = 0.4;
    expect_close(wall_stiffness(cut), wall_stiffness(unbalanced), rounding);
}

TEST(Laminate, ASandwichHasTheShearStiffnessOfItsCore) {
    // Skins t, core c, d = c + t. D = E t (d² + t²/3)/2 and the core's shear flow is E t d/2 · Q/D, so that
    // H = G (d² + t²/3)²/(c d²). Neglected: the skins' own shear, 2 t G/(3 c G_skin) = 1e-5 of 1/H, and the
    // core's bending, E_core c³/12 = 2e-4 of D, which adds as much stiffness twice.
    const double t = 0.5, c = 20, d = c + t, G = 50;
    const Lamina core{.along = 5, .across = 5, .poisson = 0.25, .shear = 2, .shear_13 = G, .shear_23 = G};
    const Eigen::Matrix2d H = transverse(wall_stiffness({{steel, 0, t}, {core, 0, c}, {steel, 0, t}}));
    const double wanted = G * std::pow(d * d + t * t / 3, 2) / (c * d * d);
    expect_close(H, wanted * Eigen::Matrix2d::Identity(), 5e-4);
}

TEST(Laminate, APlyThatCarriesNothingLeavesTheOthersShearStiffness) {
    // Its modulus is 1e-9 of the steel's, and so is its share; the neutral surface is in the middle of the
    // steel.
    Lamina foam = steel;
    foam.along = foam.across = 1e-9 * steel.along;
    const Laminate laminate = {{foam, 0, 3}, {steel, 0, 2}};
    const Eigen::Matrix2d H = transverse(wall_stiffness(laminate));
    expect_close(H, 5. / 6 * 80e3 * 2 * Eigen::Matrix2d::Identity(), 1e-7);
}

TEST(Laminate, ShearCorrectionFactorsOfCrossPliesAreThePublishedOnes) {
    // H over the sum of G t, for E₁ = 25 E₂, G₁₂ = G₁₃ = E₂/2, G₂₃ = E₂/5, ν₁₂ = 1/4 in cylindrical bending
    // (J.M. Whitney, J. Appl. Mech. 40 (1973) 302–304; figures recomputed). There κ₂₂ = 0 where the wall here
    // has M₂₂ = 0: a difference by Poisson's effect of ν₁₂ν₂₁ = 0.0025 of one ply's modulus, less in their
    // ratio.
    const Lamina m{.along = 25, .across = 1, .poisson = 0.25, .shear = 0.5, .shear_13 = 0.5, .shear_23 = 0.2};
    const Eigen::Matrix2d symmetric_plies = transverse(wall_stiffness(plies(m, 1, {0, 90, 90, 0})));
    EXPECT_NEAR(symmetric_plies(0, 0) / (2 * 0.5 + 2 * 0.2), 0.5952, 5e-4);
    EXPECT_NEAR(symmetric_plies(1, 1) / (2 * 0.5 + 2 * 0.2), 0.7205, 5e-4);
    EXPECT_NEAR(transverse(wall_stiffness(plies(m, 1, {0, 90})))(0, 0) / (0.5 + 0.2), 0.8212, 5e-4);
}

TEST(Laminate, TurningALaminateByARightAngleSwapsItsAxes) {
    // Axes 1 and 2 of the laminate are the wall's 2 and -1 then.
    WallStiffness swap = WallStiffness::Zero();
    for (const int k : {0, 3}) {
        swap(k, k + 1) = swap(k + 1, k) = 1;
        swap(k + 2, k + 2) = -1;
    }
    swap(6, 7) = 1;
    swap(7, 6) = -1;
    const WallStiffness C = wall_stiffness(turned(unbalanced, 90 * degree));
    expect_close(C, swap.transpose() * wall_stiffness(unbalanced) * swap, rounding);
}

TEST(Laminate, StiffnessOfAnyWallIsSymmetricAndPositive) {
    for (int angle = 0; angle < 180; angle += 15) {
        const WallStiffness C = wall_stiffness(turned(unbalanced, angle * degree));
        EXPECT_EQ(C, C.transpose());
        EXPECT_EQ(C.llt().info(), Eigen::Success);
    }
}

TEST(LaminateSection, OfAnIsotropicLaminateIsTheRectangle) {
    const Moduli moduli{.young = 70e3, .shear = 27e3};
    const Lamina lamina = isotropic(moduli);
    const Laminate laminate = {{lamina, 0, 2}, {lamina, 40 * degree, 0.5}, {lamina, -20 * degree, 1.5}};
    for (const double width : {2., 4., 30.}) {
        const Mat6 C = laminate_section(laminate, width), wanted = rectangle(moduli, width, 4);
        for (int i = 0; i < 6; ++i)
            for (int j = 0; j < 6; ++j)
                EXPECT_NEAR(C(i, j), wanted(i, j), rounding * std::sqrt(wanted(i, i) * wanted(j, j)));
    }
}

// Strips of glass, 40 mm wide, eight plies of 1 mm; b/d₁₁, 4b/d₆₆ and d₁₆/d₁₁ with d = D⁻¹ computed. N m²
// made N mm².
struct Strip {
    Laminate laminate;
    double bending, torsion, coupling;
};
const std::array strips{
    Strip{plies(glass, 1, {0, 0, 0, 0, 0, 0, 0, 0}), 7.68e7, 3.072e7, 0},
    Strip{plies(glass, 1, {45, 0, 0, 0, 0, 0, 0, 45}), 4.543681e7, 5.288653e7, -0.3213663},
    Strip{plies(glass, 1, {45, -45, 0, 0, 0, 0, -45, 45}), 3.065455e7, 7.863617e7, -0.09394256}};

TEST(LaminateSection, AStripBendsFlatwiseAsANarrowBeam) {
    for (const Strip& strip : strips) {
        const Mat6 F = compliance(strip.laminate, 40);
        EXPECT_NEAR(1 / F(4, 4), strip.bending, printed * strip.bending);
    }
}

TEST(LaminateSection, AVeryWideStripTwistsAsAThinOne) {
    // Edges take 0.63 h/b′ of it or less, 1.3e-5 for ten thousand times the width and b′ = b; b′ is no less
    // than b/2.
    for (const Strip& strip : strips) {
        const double GJ = 1 / compliance(strip.laminate, 40e4)(3, 3) / 1e4;
        EXPECT_NEAR(GJ, strip.torsion, 3e-5 * strip.torsion);
        EXPECT_LT(GJ, strip.torsion);
    }
}

TEST(LaminateSection, AStripWithOuterFibresAlongTheDiagonalTwistsAsItBends) {
    // M₂ > 0 stretches the upper face, κ₁₁ = d₁₁ M₁₁. Fibres at +45° resist that: the diagonal along them
    // grows less than the other one, 2ε₁₂ < 0 at z > 0, hence 2κ₁₂ = d₁₆ M₁₁ < 0. A twist κ₁ moves a thin
    // strip's points by u₂ = −κ₁xz and u₁ = −κ₁yz, 2ε₁₂ = −2zκ₁: κ₁ = −½ d₁₆ M₁₁ > 0.
    for (const Strip& strip : strips) {
        const Mat6 F = compliance(strip.laminate, 40);
        EXPECT_NEAR(F(3, 4) / F(4, 4), -strip.coupling / 2, printed);
    }
    EXPECT_GT(compliance(strips[1].laminate, 40)(3, 4), 0);
}

TEST(LaminateSection, AnAntisymmetricAnglePlyTwistsAsItIsStretched) {
    // Only (N₁₁, N₂₂, M₁₂) and (ε₁₁, ε₂₂, 2κ₁₂) are coupled; the entries are those of [30/-30] above.
    Mat3 K;
    K << 2.783963e4, 9.020086e3, -1.050892e3,  //
        9.020086e3, 6.301216e3, -3.480689e2,   //
        -1.050892e3, -3.480689e2, 7.076627e1;
    const Mat3 k = K.inverse();
    const double b = 20;
    const Mat6 F = compliance(plies(hyer, 0.15, {30, -30}), b);
    const double tolerance = 1e-5;  // seven figures, one of which the inverse loses
    EXPECT_NEAR(F(0, 0), k(0, 0) / b, tolerance * k(0, 0) / b);
    EXPECT_NEAR(F(0, 3), -k(0, 2) / (2 * b), tolerance * k(0, 2) / b);
    EXPECT_LT(F(0, 3), 0);
}

TEST(LaminateSection, AnOffAxisStripShearsAsItIsStretched) {
    // Jones, Mechanics of Composite Materials, chapter 2: S̄₁₆ = (2S₁₁ − 2S₁₂ − S₆₆) s c³ − (2S₂₂ − 2S₁₂ −
    // S₆₆) s³ c.
    const double c = std::cos(30 * degree), s = std::sin(30 * degree), b = 25, h = 2;
    const double S11 = 1 / glass.along, S22 = 1 / glass.across, S12 = -glass.poisson / glass.along,
                 S66 = 1 / glass.shear;
    const double S16 = (2 * S11 - 2 * S12 - S66) * s * c * c * c - (2 * S22 - 2 * S12 - S66) * s * s * s * c;
    const Mat6 F = compliance(plies(glass, h, {30}), b);
    EXPECT_NEAR(F(0, 1), S16 / (b * h), rounding * F(0, 0));
    EXPECT_LT(F(0, 1), 0);
}

TEST(LaminateSection, TorsionOfOneOrthotropicPlyIsSaintVenants) {
    // The other way to scale the rectangle: thickness by √(G₁₂/G₁₃), and G₁₃ √(G₁₃/G₁₂) J (Lekhnitskii,
    // Theory of Elasticity of an Anisotropic Body). J's series leaves out less than 1e-11.
    Lamina soft = glass;
    soft.shear_13 = 1300;
    const double ratio = std::sqrt(soft.shear / soft.shear_13);
    for (const double width : {3., 7., 40.}) {
        const double GJ = soft.shear_13 / ratio * torsion_constant(width, 5 * ratio);
        EXPECT_NEAR(laminate_section(plies(soft, 5, {0}), width)(3, 3), GJ, 1e-10 * GJ);
    }
}

TEST(LaminateSection, ShearOfOneOrthotropicPlyAsksTheModulusOfItsPlane) {
    Lamina soft = glass;
    soft.shear_13 = 1300;
    const Mat6 C = laminate_section(plies(soft, 5, {0}), 30);
    EXPECT_NEAR(C(1, 1), 5. / 6 * 4500 * 150, rounding * C(1, 1));
    EXPECT_NEAR(C(2, 2), 5. / 6 * 1300 * 150, rounding * C(2, 2));
}

// Computed: finite elements over the cross-section (nine-node rectangles, 80 × 12, graded toward the edges;
// the warping of least energy under uniform N, M₁, M₂, M₃) with the plies' three-dimensional stiffness: E₃ =
// E₂, ν₁₃ = ν₁₂, G₂₃ = 4200, ν₂₃ = E₂/(2G₂₃) − 1. Half as fine a mesh agrees to 1e-5 with the first strip,
// 2e-4 with the second.
TEST(LaminateSection, CouplingsOfAnUnsymmetricStripAreThoseOfItsSolid) {
    Mat4 wanted;  // compliance by N, M₁, M₂, M₃ [1/N, 1/(N mm), 1/(N mm²)]
    wanted << 5.65443e-7, -1.27866e-7, -4.75949e-7, 0,  //
        -1.27866e-7, 1.538148e-6, 2.55711e-7, 0,        //
        -4.75949e-7, 2.55711e-7, 1.696413e-6, 0,        //
        0, 0, 0, 3.225237e-9;
    const std::array loads{0, 3, 4, 5};
    const Mat4 found = compliance(plies(glass, 1, {45, 0}), 40)(loads, loads);
    for (int i = 0; i < 4; ++i)
        for (int j = 0; j < 4; ++j)  // the plate has no through-thickness stress in its edge zones: 3e-4
            EXPECT_NEAR(found(i, j), wanted(i, j), 4e-4 * std::sqrt(wanted(i, i) * wanted(j, j)));
}

TEST(LaminateSection, EdgewiseBendingOfAStripThatTwistsUnderTensionIsThatOfItsSolid) {
    // The plate's edge zones are wrong by some of their own size; without them EI₃ would be 11 % too great.
    const double EI3 = laminate_section(plies(hyer, 1, {30, -30}), 40)(5, 5);
    EXPECT_NEAR(EI3, 1 / 2.0875e-9, 0.02 / 2.0875e-9);
}

TEST(LaminateSection, TurningAStripUpsideDownTurnsItsAxes) {
    // Half a turn about axis 1: what was below is above, fibre angles and axes 2 and 3 change their sign.
    Laminate over(unbalanced.rbegin(), unbalanced.rend());
    for (Ply& ply : over) ply.angle = -ply.angle;
    const Mat6 turn = Vec6(1, -1, -1, 1, -1, -1).asDiagonal();
    expect_close(laminate_section(over, 20), turn * laminate_section(unbalanced, 20) * turn, rounding);
}

TEST(LaminateSection, IsSymmetricAndPositiveForAnyLaminate) {
    for (const double width : {0.5, 5., 50.})
        for (int angle = 0; angle < 180; angle += 15) {
            const Mat6 C = laminate_section(turned(unbalanced, angle * degree), width);
            EXPECT_EQ(C, C.transpose());
            EXPECT_EQ(C.llt().info(), Eigen::Success);
        }
}

TEST(LaminateInput, AnIsotropicLaminaKnowsItsPoissonRatio) {
    const Lamina lamina = isotropic({.young = 200e3, .shear = 80e3});
    EXPECT_DOUBLE_EQ(lamina.poisson, 0.25);
    EXPECT_EQ(lamina.across, 200e3);
    EXPECT_EQ(lamina.shear_23, 80e3);
}

TEST(LaminateInput, ModuliThatNoIsotropicMaterialHasAreRefusedWithTheNumbers) {
    const std::string what = complaint([] { (void)isotropic({.young = 40e3, .shear = 4e3}); });
    for (const char* number : {"40000", "4000", "= 4 "})
        EXPECT_NE(what.find(number), std::string::npos) << what;
    EXPECT_THROW((void)isotropic({.young = 3, .shear = 1}), std::invalid_argument);  // ν = 0.5
    EXPECT_THROW((void)isotropic({.young = -2.5, .shear = -1}), std::invalid_argument);
    EXPECT_THROW((void)isotropic({.young = 1, .shear = 0}), std::invalid_argument);
}

TEST(LaminateInput, NoPlyIsRefused) {
    EXPECT_THROW((void)wall_stiffness({}), std::invalid_argument);
    EXPECT_THROW((void)laminate_section({}, 10), std::invalid_argument);
    EXPECT_THROW((void)ply_states({}, Vec3::Zero(), Vec3::Zero()), std::invalid_argument);
}

TEST(LaminateInput, AThicknessOrWidthThatIsNotPositiveIsRefused) {
    for (const double bad : {0., -1., std::nan(""), std::numeric_limits<double>::infinity()}) {
        EXPECT_THROW((void)wall_stiffness(plies(glass, bad, {0})), std::invalid_argument) << bad;
        EXPECT_THROW((void)laminate_section(plies(glass, 1, {0}), bad), std::invalid_argument) << bad;
    }
}

TEST(LaminateInput, AModulusThatIsNotPositiveIsRefusedWithThePlysNumber) {
    for (double Lamina::*modulus :
         {&Lamina::along, &Lamina::across, &Lamina::shear, &Lamina::shear_13, &Lamina::shear_23}) {
        Laminate laminate = plies(glass, 1, {0, 0, 0});
        laminate[1].lamina.*modulus = 0;
        EXPECT_NE(complaint([&] { (void)wall_stiffness(laminate); }).find("ply 2"), std::string::npos);
    }
}

TEST(LaminateInput, AnAngleThatIsNoNumberIsRefused) {
    EXPECT_THROW((void)wall_stiffness({{glass, std::nan(""), 1}}), std::invalid_argument);
}

TEST(LaminateInput, ALaminaThatWouldGiveEnergyAwayIsRefused) {
    Lamina lamina = glass;
    lamina.poisson = std::sqrt(45. / 12) + 1e-6;
    EXPECT_THROW((void)wall_stiffness(plies(lamina, 1, {0})), std::invalid_argument);
    lamina.poisson -= 2e-6;
    EXPECT_NO_THROW((void)wall_stiffness(plies(lamina, 1, {0})));
}

}  // namespace
}  // namespace limbwright::solver::laminate_test
