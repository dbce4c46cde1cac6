#include <gtest/gtest.h>

#include <numbers>

#include "solver/elements/section.hpp"
#include "tests/support/reference.hpp"
#include "tests/support/shell_scenes.hpp"

/// A narrow strip on edge, clamped, under a dead tip force in its plane, tips over sideways.
namespace limbwright::testing::shell_buckling_test {
namespace {

/// P L²/√(EI GJ) at which a negative pivot appears along the path, to four digits; 10 × 0.5, ν = 0. Elements
/// across are narrow at the edges, where the shear flow of torsion turns back within a third of the
/// thickness.
double critical_factor(double length) {
    constexpr int along = 48, across = 12;
    constexpr double E = 70000, width = 10, thickness = 0.5;
    const double EI = E * width * std::pow(thickness, 3) / 12;
    const double GJ = 0.5 * E * torsion_constant(width, thickness);
    const double unit = std::sqrt(EI * GJ) / (length * length);
    ShellGrid grid = make_grid(along, across, isotropic_wall(E, 0, thickness), [&](double u, double v) {
        return SurfacePoint{{u * length, -0.5 * width * std::cos(std::numbers::pi * v), 0}, Vec3::UnitZ()};
    });
    grid.hold_all(grid.row(0), all_freedoms);
    grid.push_line(grid.row(along), unit / width * Vec3::UnitY());
    LoadedShells loaded(grid);
    double stable = 3.6, unstable = 4.6;
    EXPECT_EQ(loaded.under(stable).negative_pivots, 0);
    while (unstable - stable > 1e-4) {
        const double middle = 0.5 * (stable + unstable);
        (loaded.under(middle).negative_pivots == 0 ? stable : unstable) = middle;
    }
    EXPECT_EQ(loaded.under(1.001 * unstable).negative_pivots, 1);
    return stable;
}

TEST(NarrowStripOfShells, TipsOverAtTheClassicalForce) {
    const double shorter = critical_factor(200), longer = critical_factor(400);
    // The clamp keeps the strip from warping and so from twisting over about 0.2 of its width, √(E b³t³/144
    // GJ): a percent of the shorter one, which falls as the inverse of the length.
    EXPECT_NEAR(shorter / longer, 1.01, 0.005);
    const double without_clamp = 2 * longer - shorter;
    // Bending before adds 0.4 % at 20 times as wide as thick.
    expect_met(without_clamp,
               {4.0126, 0.006 * 4.0126, "Timoshenko & Gere, Theory of Elastic Stability, 1961"});
}

}  // namespace
}  // namespace limbwright::testing::shell_buckling_test
