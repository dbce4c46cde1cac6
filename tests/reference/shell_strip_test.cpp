#include <gtest/gtest.h>

#include <numbers>

#include "tests/support/cantilever.hpp"
#include "tests/support/observed_order.hpp"
#include "tests/support/shell_scenes.hpp"

/// Strips and profiles of shells against beams, and what the drilling weight changes.
namespace limbwright::testing::shell_strip_test {
namespace {

using std::numbers::pi;
constexpr double E = 2.6, poisson = 0.3, G = 1;

/// From the middle line of a strip whose root is free to warp: width given along its length.
ShellGrid twisted_strip(int along, int across, double length, double thickness,
                        const std::function<double(double)>& width) {
    ShellGrid grid = make_grid(along, across, isotropic_wall(E, poisson, thickness), [&](double u, double v) {
        return SurfacePoint{{u * length, (v - 0.5) * width(u), 0}, Vec3::UnitZ()};
    });
    grid.hold_all(grid.row(0), {along_x, along_y, along_z, about_x});
    return grid;
}

/// Turn of a cross-section about the strip's axis [rad].
double section_turn(const ShellGrid& grid, const VecX& q, int i) {
    const int one = grid.at(i, 0), other = grid.at(i, grid.nv);
    return (q[6 * other + 2] - q[6 * one + 2]) / (grid.place(other).y() - grid.place(one).y());
}

/// A unit torque by forces on the tip's edges.
void twist_tip(ShellGrid& grid) {
    const int one = grid.at(grid.nu, 0), other = grid.at(grid.nu, grid.nv);
    const double arm = grid.place(other).y() - grid.place(one).y();
    grid.push(other, Vec3(0, 0, 1 / arm));
    grid.push(one, Vec3(0, 0, -1 / arm));
}

/// Torsion constant of a uniform strip four widths long from its first half, where the tip is no longer felt.
double torsion_constant_of_shells(double width, double thickness, int across) {
    ShellGrid grid = twisted_strip(2 * across, across, 4 * width, thickness, [=](double) { return width; });
    twist_tip(grid);
    const VecX q = linear_response(grid);
    return 2 * width / (G * section_turn(grid, q, across));
}

TEST(TwistedStrip, HasTheTorsionConstantOfSaintVenant) {
    // The edges' shear flow falls off as exp(−√10 y/t). A wall of shear coefficient 5/6 has
    // J = b t³/3 (1 − 2 t/(√10 b) tanh(√10 b/2t)): 0.63246 t/b for Saint-Venant's 0.6302, 0.1 % here.
    for (const auto& [width, thickness] : {std::pair{24., 9.}, {36., 9.}, {90., 9.}}) {
        const double exact = torsion_constant(width, thickness);
        const double root = std::sqrt(10.) * width / (2 * thickness);
        const double wall = width * std::pow(thickness, 3) / 3 * (1 - std::tanh(root) / root);
        const double coarse = torsion_constant_of_shells(width, thickness, 16);
        const double fine = torsion_constant_of_shells(width, thickness, 32);
        EXPECT_NEAR(observed_order(coarse - wall, fine - wall), 2, 0.3) << width;
        EXPECT_NEAR(extrapolated(coarse, fine) / exact, 1, 0.003) << width;
        EXPECT_NEAR(fine / exact, 1, 0.01) << width;
    }
}

TEST(TwistedStrip, OfTaperedWidthTurnsAsTheSumOfItsSections) {
    // Computed: ∫ dx/J for 300 × 40 … 20 × 8, quadrature of the series to 1e-11. The forces at the tip's
    // edges soften the last width by less than 1 %.
    ShellGrid grid = twisted_strip(60, 12, 300, 8, [](double u) { return 40 - 20 * u; });
    twist_tip(grid);
    const VecX q = linear_response(grid);
    EXPECT_NEAR(section_turn(grid, q, 60) * G, 0.07460742693, 0.02 * 0.07460742693);
}

TEST(ClampedStrip, BendsAsTheBeamOfItsSection) {
    constexpr double length = 300, width = 24, thickness = 9;
    const Cantilever beam = make_cantilever(1, straight(length), [&](double) {
        return rectangle({E, 0.5 * E}, width, thickness);
    });
    for (const int direction : {1, 2}) {
        const Vec3 force = 1e-9 * Vec3::Unit(direction);
        const State bent = under_tip_force(beam, force, 1);
        const double expected = bent.at(beam.tip).position[direction];
        ShellGrid grid = make_grid(32, 4, isotropic_wall(E, 0, thickness), flat(length, width));
        grid.hold_all(grid.row(0), all_freedoms);
        grid.push_line(grid.row(32), force / width);
        // 32 elements; at the clamp edgewise the section stays plane: less than a tenth of a percent each.
        EXPECT_NEAR(linear_response(grid)[6 * grid.at(32, 2) + direction] / expected, 1, 0.002) << direction;
    }
}

// ---- drilling
constexpr std::array<double, 3> weights{0.01, 1, 100};

/// Largest change of a result over the weights, as a share.
double change(const std::function<double(double)>& result) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (const double weight : weights) {
        const double found = std::abs(result(weight));
        low = std::min(low, found);
        high = std::max(high, found);
    }
    return high / low - 1;
}

TEST(Drilling, WeightChangesNothingInAPlate) {
    // Loaded in its plane, elements distorted.
    EXPECT_LT(change([](double weight) {
                  ShellGrid grid = make_grid(8, 4, isotropic_wall(E, poisson, 0.1), [](double u, double v) {
                      const double shift = 0.5 * u * (1 - u) * (v - 0.5);
                      return SurfacePoint{{2 * (u + shift), v, 0}, Vec3::UnitZ()};
                  });
                  grid.drilling = weight;
                  grid.hold_all(grid.row(0), all_freedoms);
                  grid.push_line(grid.row(8), Vec3::UnitY());
                  return linear_response(grid)[6 * grid.at(8, 4) + 1];
              }),
              1e-3);
}

TEST(Drilling, WeightChangesLittleInAFoldedPlate) {
    // An L of two legs of 20 × 1, length 100, one leg clamped with the other, a force on the tip's corner.
    EXPECT_LT(change([](double weight) {
                  ShellGrid grid = make_grid(20, 4, isotropic_wall(E, poisson, 1), flat(100, 20));
                  grid.drilling = weight;
                  grid.hold_all(grid.row(0), all_freedoms);
                  std::vector<int> before;
                  for (int j = 0; j <= 4; ++j)
                      for (int i = 0; i <= 20; ++i) {
                          const int corner = grid.add_corner({{5. * i, 0, 5. * j}, Vec3::UnitY()});
                          if (j == 0) grid.tie(corner, Frame::on(NodeId(grid.at(i, 0))));
                          if (i == 0) grid.hold(corner, all_freedoms);
                          if (i > 0 && j > 0)
                              grid.cells.push_back({corner, corner - 1, corner - 22, corner - 21});
                      }
                  grid.push(grid.at(20, 0), Vec3(0, 1, 1));
                  const Vec3 tip = displacement(linear_response(grid), grid.at(20, 0));
                  return tip.y() + tip.z();
              }),
              1e-3);
}

TEST(Drilling, WeightChangesLittleInAPinchedHemisphere) {
    // R/t = 250: how the corners' turns differ weighs against bending, 1e-5 · 100 of the shear stiffness
    // against (t/h)²/12 = 1e-4 of it.
    EXPECT_LT(
        change([](double weight) {
            ShellGrid grid = make_grid(16, 16, isotropic_wall(6.825e7, 0.3, 0.04), [](double u, double v) {
                const double a = 0.5 * pi * u, b = 0.4 * pi * v;
                const Vec3 normal(std::cos(b) * std::cos(a), std::cos(b) * std::sin(a), std::sin(b));
                return SurfacePoint{10 * normal, normal};
            });
            grid.direction = Vec3(0.1, 0.2, 1);
            grid.drilling = weight;
            grid.hold_all(grid.row(0), mirrored(1));
            grid.hold_all(grid.row(16), mirrored(0));
            grid.hold(grid.at(0, 0), {along_z});
            grid.push(grid.at(0, 0), Vec3(1, 0, 0));
            grid.push(grid.at(16, 0), Vec3(0, -1, 0));
            return linear_response(grid)[6 * grid.at(0, 0)];
        }),
        2e-3);
}

}  // namespace
}  // namespace limbwright::testing::shell_strip_test
