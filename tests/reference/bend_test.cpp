#include <gtest/gtest.h>

#include <array>

#include "tests/support/cantilever.hpp"
#include "tests/support/observed_order.hpp"
#include "tests/support/reference.hpp"

/// A cantilever along an eighth of a circle of radius 100, unit square section, E = 1e7, ν = 0, bent out of
/// its plane by a dead tip force: K.-J. Bathe & S. Bolourchi, Int. J. Numer. Methods Eng. 14 (1979).
namespace limbwright::testing::bend_test {
namespace {

constexpr double E = 1e7, G = 5e6;

/// The torsion constant was not stated in 1979; both readings are in use.
const SectionStiffness polar_torsion = diagonal_section(E, G, G, G / 6, E / 12, E / 12);
const SectionStiffness true_torsion = rectangle({E, G}, 1, 1);

Vec3 tip(const SectionStiffness& section, double force, int beams) {
    const double angle = std::numbers::pi / 4;
    const Cantilever bend =
        make_cantilever(beams, arc_about_z(100 * angle, 0.01), [&](double) { return section; });
    return under_tip_force(bend, Vec3(0, 0, force), 6).at(bend.tip).position;
}

/// Computed: Cosserat rod by single shooting, Runge–Kutta of order 8, relative tolerance 1e-12.
struct Computed {
    SectionStiffness section;
    double force;
    Vec3 tip;
};
const std::array<Computed, 4> computed{{
    {polar_torsion, 300, {58.7791225, 22.2447809, 40.1918917}},
    {polar_torsion, 600, {47.1504386, 15.6848005, 53.4748588}},
    {true_torsion, 300, {58.5357092, 22.1125138, 40.4807574}},
    {true_torsion, 600, {46.8915864, 15.5576762, 53.6079863}},
}};

/// With ν = 0 and J = 1/6, GJ = EI: then the beam is of fourth order, as in a plane; else of second.
double order(const Computed& row) {
    return row.section(3, 3) == row.section(4, 4) ? 4 : 2;
}

TEST(FortyFiveDegreeBend, MeetsTheComputedRodForBothTorsionConstants) {
    for (const Computed& row : computed) {
        const Vec3 coarse = tip(row.section, row.force, 16), fine = tip(row.section, row.force, 32);
        for (int i = 0; i < 3; ++i) {
            EXPECT_NEAR(fine[i], row.tip[i], 1e-4) << row.force;  // a millionth of the length, with 32 beams
            // A ten-millionth once the leading error is gone.
            EXPECT_NEAR(extrapolated(coarse[i], fine[i], order(row)), row.tip[i], 1e-5) << row.force;
        }
    }
}

TEST(FortyFiveDegreeBend, ConvergesWithTheSquareOfTheBeamsLengthAndItsSquareAgainWhereGJIsEI) {
    for (const Computed& row : computed) {
        const double coarse = (tip(row.section, row.force, 8) - row.tip).norm();
        const double fine = (tip(row.section, row.force, 16) - row.tip).norm();
        EXPECT_NEAR(observed_order(coarse, fine), order(row), 0.25) << row.force;
    }
}

TEST(FortyFiveDegreeBend, LiesWithinTheScatterOfThePublishedEightElementResults) {
    const Vec3 found = tip(polar_torsion, 600, 8);
    constexpr double scatter = 0.25;  // between the authors' eight-element models
    constexpr const char* source = "Bathe & Bolourchi 1979, eight elements; Simo & Vu-Quoc 1986 agree to 0.1";
    expect_met(found.x(), {47.2, scatter, source});
    expect_met(found.y(), {15.9, scatter, source});
    expect_met(found.z(), {53.4, scatter, source});
}

}  // namespace
}  // namespace limbwright::testing::bend_test
