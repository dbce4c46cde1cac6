#include <gtest/gtest.h>

#include <numbers>

#include "tests/support/observed_order.hpp"
#include "tests/support/reference.hpp"
#include "tests/support/shell_scenes.hpp"

/// R.H. MacNeal & R.L. Harder, A proposed standard set of problems to test finite element accuracy, Finite
/// Elem. Anal. Des. 1 (1985) 3–20, and T. Belytschko et al., Comput. Methods Appl. Mech. Eng. 51 (1985)
/// 221–258. Values are as public tests of other programs quote these papers: cantilever and curved beam in
/// saullocastro/pyfe3d (tests/test_drilling_benchmarks.py), twisted beam of t = 0.32 in SOFEA's script
/// pub_Twisted_beam, roof and cylinder in Kratos' "shell obstacle course". The others are from memory, as is
/// said at each. Where "computed" is said, the value was computed for this test, whatever was published.
namespace limbwright::testing::shell_linear_test {
namespace {

using std::numbers::pi;

// ---- straight cantilever
enum class Sides { regular, trapezoids, parallelograms };

/// 6 × 0.2 × 0.1, E = 1e7, ν = 0.3, six elements, their cross sides slanted by 45 degrees where said.
ShellGrid straight_cantilever(Sides sides) {
    ShellGrid grid = make_grid(6, 1, isotropic_wall(1e7, 0.3, 0.1), [&](double u, double v) {
        const int i = static_cast<int>(std::lround(6 * u));
        double x = 6 * u;
        if (sides != Sides::regular && i > 0 && i < 6) {
            const bool back = sides == Sides::trapezoids && i % 2 == 0;
            x += (back ? -1 : 1) * 0.2 * (v - 0.5);
        }
        return SurfacePoint{{x, 0.2 * v, 0}, Vec3::UnitZ()};
    });
    grid.hold_all(grid.row(0), all_freedoms);
    return grid;
}

/// Mean tip displacement along a unit force shared by the two tip nodes.
double tip_displacement(Sides sides, const Vec3& force) {
    ShellGrid grid = straight_cantilever(sides);
    for (const int corner : grid.row(6)) grid.push(corner, 0.5 * force);
    const VecX q = linear_response(grid);
    return 0.5 * (displacement(q, grid.at(6, 0)) + displacement(q, grid.at(6, 1))).dot(force);
}
double tip_twist(Sides sides) {
    ShellGrid grid = straight_cantilever(sides);
    grid.push(grid.at(6, 0), Vec3(0, 0, -5));
    grid.push(grid.at(6, 1), Vec3(0, 0, 5));
    const VecX q = linear_response(grid);
    return (q[6 * grid.at(6, 1) + 2] - q[6 * grid.at(6, 0) + 2]) / 0.2;
}

constexpr const char* MH = "MacNeal & Harder 1985";

TEST(StraightCantilever, StretchesAsItShould) {
    for (const Sides sides : {Sides::regular, Sides::trapezoids, Sides::parallelograms})
        expect_met(tip_displacement(sides, Vec3::UnitX()) / 3e-5,
                   {1, 0.01, MH});  // the clamp keeps its width
}

TEST(StraightCantilever, BendsOutOfPlaneWhateverTheElementsShape) {
    // Six linear slopes along a cubic, (1/6)²/4 = 0.7 %, and the slanted sides' share of twist.
    for (const Sides sides : {Sides::regular, Sides::trapezoids, Sides::parallelograms})
        expect_met(tip_displacement(sides, Vec3::UnitZ()) / 0.4321, {1, 0.03, MH});
}

/// No element of four corners and two displacements each passes the patch test and bends in its plane as a
/// trapezoid: R.H. MacNeal, Int. J. Numer. Methods Eng. 24 (1987) 1793–1799.
TEST(StraightCantilever, BendsInItsPlaneAsPianAndSumiharasElementDoes) {
    constexpr const char* source = "assumed stress with five parameters, ibid. 20 (1984); values from memory";
    const auto bent = [](Sides sides) { return tip_displacement(sides, Vec3::UnitY()) / 0.1081; };
    expect_met(bent(Sides::regular), {0.993, 0.002, source});
    expect_met(bent(Sides::parallelograms), {0.632, 0.01, source});
    expect_met(bent(Sides::trapezoids), {0.052, 0.003, source});
}

TEST(StraightCantilever, TwistsAlikeWhateverTheElementsShape) {
    // One element across has the free sides' shear flow too stiff; about 6 % below the published value, which
    // itself is 6 % below Saint-Venant's 0.0341085.
    for (const Sides sides : {Sides::regular, Sides::trapezoids, Sides::parallelograms})
        expect_met(tip_twist(sides) / 0.03208, {0.945, 0.005, MH});
}

// ---- curved beam
/// Quarter of an annulus 4.12 … 4.32, t = 0.1, E = 1e7, ν = 0.25, unit tip force.
double curved_beam(int along, int across, const Vec3& force) {
    ShellGrid grid = make_grid(along, across, isotropic_wall(1e7, 0.25, 0.1), [](double u, double v) {
        const double radius = 4.12 + 0.2 * v, angle = 0.5 * pi * u;
        return SurfacePoint{{radius * std::sin(angle), radius * std::cos(angle), 0}, Vec3::UnitZ()};
    });
    grid.hold_all(grid.row(0), all_freedoms);
    grid.push_line(grid.row(along), force / 0.2);
    const VecX q = linear_response(grid);
    return 0.5 * (displacement(q, grid.at(along, 0)) + displacement(q, grid.at(along, across))).dot(force);
}

TEST(CurvedBeam, MeetsElasticityInItsPlaneAndTheBeamOutOfIt) {
    // In plane computed: Golovin's solution 0.0885655; the published 0.08734 is 1.4 % low.
    EXPECT_NEAR(curved_beam(6, 1, Vec3::UnitX()) / 0.0885655, 0.875,
                0.005);  // sides turned by 15 degrees: trapezoids
    EXPECT_NEAR(curved_beam(24, 4, Vec3::UnitX()) / 0.0885655, 1, 0.01);
    expect_met(curved_beam(6, 1, Vec3::UnitZ()) / 0.5022, {0.95, 0.005, MH});
    expect_met(curved_beam(24, 4, Vec3::UnitZ()) / 0.5022, {1, 0.02, MH});
}

// ---- rectangular plate
/// Quarter of a × b (a = 2), t = 1e-4, E = 1.7472e7, ν = 0.3: deflection of the centre.
double plate(int n, double b, bool clamped, bool uniform) {
    ShellGrid grid = make_grid(n, n, isotropic_wall(1.7472e7, 0.3, 1e-4), flat(1, 0.5 * b));
    for (const auto& [chain, turn] : {std::pair{grid.row(0), about_x}, {grid.column(0), about_y}}) {
        if (clamped)
            grid.hold_all(chain, all_freedoms);
        else
            grid.hold_all(chain, {along_x, along_y, along_z, turn});
    }
    grid.hold_all(grid.row(n), mirrored(0));
    grid.hold_all(grid.column(n), mirrored(1));
    if (uniform)
        grid.push_surface(Vec3(0, 0, 1e-4));
    else
        grid.push(grid.at(n, n), Vec3(0, 0, 1e-4));
    return linear_response(grid)[6 * grid.at(n, n) + 2];
}

struct PlateCase {
    double b;
    bool clamped, uniform;
    double published, tolerance;
};

TEST(RectangularPlate, MeetsThePublishedDeflections) {
    // 16 × 16 elements on the quarter; on the long plate they are five times as long as wide, and what a
    // point load or the clamp needs along the long side is coarse: 1.2 %. The published 2.56 is low: a
    // clamped strip has 2.604.
    for (const PlateCase& row : {PlateCase{2, false, true, 4.062, 0.001},
                                 {10, false, true, 12.97, 0.002},
                                 {2, false, false, 11.60, 0.001},
                                 {10, false, false, 16.96, 0.006},
                                 {2, true, true, 1.26, 0.005},
                                 {10, true, true, 2.56, 0.015},
                                 {2, true, false, 5.60, 0.001},
                                 {10, true, false, 7.23, 0.012}})
        expect_met(plate(16, row.b, row.clamped, row.uniform) / row.published,
                   {1, row.tolerance, "MacNeal & Harder 1985, from memory"});
}

TEST(RectangularPlate, ConvergesWithTheSquareOfTheElementsSize) {
    // Navier's series for the thin supported square, 0.00406235 q a⁴/D (Timoshenko & Woinowsky-Krieger,
    // Theory of Plates and Shells).
    const double exact = 0.00406235 * 1e-4 * 16 / (1.7472e7 * 1e-12 / (12 * 0.91));
    const double coarse = plate(8, 2, false, true) - exact, fine = plate(16, 2, false, true) - exact;
    EXPECT_NEAR(observed_order(coarse, fine), 2, 0.1);
}

// ---- twisted beam
/// 12 × 1.1, turned by 90 degrees from root to tip, E = 29e6, ν = 0.22, under a force on the tip. Of t = 0.32
/// computed by beam theory with shear: 0.0017496 and 0.0054293.
double twisted_beam(int m, double thickness, int direction, double force) {
    ShellGrid grid = make_grid(12 * m, 2 * m, isotropic_wall(29e6, 0.22, thickness), [](double u, double v) {
        const double turn = 0.5 * pi * u, y = 1.1 * (v - 0.5);
        const Vec3 across(0, std::cos(turn), std::sin(turn));
        const Vec3 along = Vec3(12, 0, 0) + y * 0.5 * pi * Vec3(0, -std::sin(turn), std::cos(turn));
        return SurfacePoint{Vec3(12 * u, 0, 0) + y * across, along.cross(across).normalized()};
    });
    grid.hold_all(grid.row(0), all_freedoms);
    grid.push_line(grid.row(12 * m), force / 1.1 * Vec3::Unit(direction));
    return linear_response(grid)[6 * grid.at(12 * m, m) + direction];
}

TEST(TwistedBeam, MeetsThePublishedDisplacements) {
    expect_met(twisted_beam(1, 0.32, 1, 1), {0.001754, 0.015 * 0.001754, MH});
    expect_met(twisted_beam(1, 0.32, 2, 1), {0.005424, 0.006 * 0.005424, MH});
    expect_met(twisted_beam(4, 0.32, 1, 1), {0.001754, 0.002 * 0.001754, MH});
    expect_met(twisted_beam(4, 0.32, 2, 1), {0.005424, 0.002 * 0.005424, MH});
}

TEST(TwistedBeam, StaysSoftWhenAHundredTimesThinner) {
    // Computed by beam theory with shear: 0.0012963 and 0.0053162, 0.2 and 1.2 % above.
    constexpr const char* source = "Belytschko et al., shells of t = 0.0032; from memory";
    expect_met(twisted_beam(1, 0.0032, 1, 1e-6), {0.001294, 0.02 * 0.001294, source});
    expect_met(twisted_beam(1, 0.0032, 2, 1e-6), {0.005256, 0.04 * 0.005256, source});
    expect_met(twisted_beam(4, 0.0032, 1, 1e-6), {0.001294, 0.003 * 0.001294, source});
    expect_met(twisted_beam(4, 0.0032, 2, 1e-6), {0.005256, 0.003 * 0.005256, source});
}

// ---- curved shells
/// About the x axis from the top, x = 0 … length, the angle from 0 to `angle`.
Surface barrel(double radius, double length, double angle) {
    return [=](double u, double v) {
        const Vec3 normal(0, std::sin(angle * v), std::cos(angle * v));
        return SurfacePoint{Vec3(length * u, 0, 0) + radius * normal, normal};
    };
}

/// Sag of the free edge's middle, from a quarter.
double roof(int n) {
    ShellGrid grid = make_grid(n, n, isotropic_wall(4.32e8, 0, 0.25), barrel(25, 25, 40 * pi / 180));
    grid.hold_all(grid.row(0), {along_y, along_z});
    grid.hold_all(grid.row(n), mirrored(0));
    grid.hold_all(grid.column(0), mirrored(1));
    grid.push_surface(Vec3(0, 0, -90));
    return -linear_response(grid)[6 * grid.at(n, n) + 2];
}

TEST(ScordelisLoRoof, MeetsThePublishedSag) {
    expect_met(roof(8), {0.3024, 0.01 * 0.3024, "Scordelis & Lo 1964; MacNeal & Harder 1985"});
    // Computed 0.300601 without transverse shear, which adds about 0.2 % at the free edge.
    EXPECT_NEAR(roof(32), 0.300601, 0.003 * 0.300601);
}

TEST(ScordelisLoRoof, ConvergesWithTheSquareOfTheElementsSize) {
    const double a = roof(4), b = roof(8), c = roof(16);
    EXPECT_NEAR(observed_order(a - b, b - c), 2.3, 0.3);
}

/// Radial displacement under one of two opposite forces, from an eighth.
double pinched_cylinder(int n) {
    ShellGrid grid = make_grid(n, n, isotropic_wall(3e6, 0.3, 3), barrel(300, 300, 0.5 * pi));
    grid.hold_all(grid.row(0), {along_y, along_z});
    grid.hold_all(grid.row(n), mirrored(0));
    grid.hold_all(grid.column(0), mirrored(1));
    grid.hold_all(grid.column(n), mirrored(2));
    grid.push(grid.at(n, 0), Vec3(0, 0, -0.25));
    return -linear_response(grid)[6 * grid.at(n, 0) + 2];
}

TEST(PinchedCylinder, ConvergesToThePublishedDisplacement) {
    constexpr double published = 1.8248e-5;
    constexpr const char* source = "Lindberg, Olson & Cowper 1969; Belytschko et al. 1985";
    // The wrinkle under the force is √(R t) = 30 wide, half an element of 4 × 4.
    expect_met(pinched_cylinder(4) / published, {0.39, 0.03, source});
    expect_met(pinched_cylinder(8) / published, {0.76, 0.02, source});
    expect_met(pinched_cylinder(16) / published, {0.94, 0.01, source});
    expect_met(pinched_cylinder(32) / published, {0.99, 0.01, source});
}

/// A quarter of a hemisphere with a hole of 18 degrees, R = 10, t = 0.04, under outward and inward forces.
double hemisphere(int n) {
    ShellGrid grid = make_grid(n, n, isotropic_wall(6.825e7, 0.3, 0.04), [](double u, double v) {
        const double a = 0.5 * pi * u, b = 0.4 * pi * v;
        const Vec3 normal(std::cos(b) * std::cos(a), std::cos(b) * std::sin(a), std::sin(b));
        return SurfacePoint{10 * normal, normal};
    });
    grid.direction = Vec3(0.1, 0.2, 1);
    grid.hold_all(grid.row(0), mirrored(1));
    grid.hold_all(grid.row(n), mirrored(0));
    grid.hold(grid.at(0, 0), {along_z});
    grid.push(grid.at(0, 0), Vec3(1, 0, 0));
    grid.push(grid.at(n, 0), Vec3(0, -1, 0));
    return linear_response(grid)[6 * grid.at(0, 0)];
}

TEST(HemisphereWithAHole, MeetsThePublishedDisplacement) {
    expect_met(hemisphere(8), {0.0940, 0.01 * 0.0940, "MacNeal & Harder 1985, from memory"});
    // Computed: Fourier and Legendre series, 0.0935212; the published value is 0.5 % high.
    EXPECT_NEAR(hemisphere(4), 0.0935212, 0.04 * 0.0935212);
    EXPECT_NEAR(hemisphere(16), 0.0935212, 0.003 * 0.0935212);
    EXPECT_NEAR(hemisphere(32), 0.0935212, 0.001 * 0.0935212);
}

/// Arcs of radius 14 over 60 degrees and 46 over 150, opposite bends; width 20, t = 2, E = 3300, ν = 0.35; a
/// unit force along the width, spread over the tip.
double hook(int m) {
    ShellGrid grid = make_grid(14 * m, 3 * m, isotropic_wall(3300, 0.35, 2), [](double u, double v) {
        const double s = 210 * u, bend = 2 * pi / 3;
        const auto unit = [](double angle) { return Vec3(std::cos(angle), std::sin(angle), 0); };
        const Vec3 up(0, 0, 20 * v);
        if (s <= 60) {
            const Vec3 normal = unit(pi - s * pi / 180);
            return SurfacePoint{14 * normal + up, normal};
        }
        const Vec3 normal = -unit(bend + pi + (s - 60) * pi / 180);
        return SurfacePoint{60 * unit(bend) - 46 * normal + up, normal};
    });
    grid.direction = Vec3::UnitZ();
    grid.hold_all(grid.row(0), all_freedoms);
    grid.push_line(grid.row(14 * m), Vec3(0, 0, 1. / 20));
    return linear_response(grid)[6 * grid.at(14 * m, 0) + 2];
}

TEST(RaaschHook, MeetsThePublishedDisplacementAndDoesNotGrowWithTheMesh) {
    // Elements whose drilling turns take part in transverse shear grow without end here.
    constexpr const char* source = "N.F. Knight, AIAA J. 35 (1997); solid elements 4.9352, from memory";
    expect_met(hook(1) / 4.9352, {1, 0.03, source});
    expect_met(hook(2) / 4.9352, {1, 0.02, source});
    expect_met(hook(4) / 4.9352, {1, 0.02, source});
}

}  // namespace
}  // namespace limbwright::testing::shell_linear_test
