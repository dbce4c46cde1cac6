#include <gtest/gtest.h>

#include <array>

#include "tests/support/cantilever.hpp"
#include "tests/support/observed_order.hpp"
#include "tests/support/reference.hpp"

/// Loads at which a state in the x-y plane stops being stable against leaving it, told by the signs of the
/// pivots.
namespace limbwright::testing::buckling_test {
namespace {

/// Width in the plane, thickness across it; stiff against stretch and shear, as the references have it.
SectionStiffness narrow_section(double EI_weak, double EI_strong, double GJ, double rigid) {
    return diagonal_section(rigid, rigid, rigid, GJ, EI_weak, EI_strong);
}

/// Smallest load between the two at which a negative pivot appears, to eight digits.
double critical_load(const Cantilever& c, const Vec3& direction, double stable, double unstable) {
    System::Elements elements = c.elements;
    const std::size_t load = elements.size();
    elements.push_back(std::make_shared<DeadForce>(Frame::on(c.tip), Vec3::Zero()));
    const System unloaded(numbering_of_nodes(c.rest), std::move(elements));
    Workspace workspace(unloaded);
    State here = c.rest;
    const auto negative_pivots = [&](double P) {
        const auto force = std::make_shared<DeadForce>(Frame::on(c.tip), Vec3(P * direction));
        const Equilibrium e = found(find_equilibrium(unloaded.with(load, force), here, {}, workspace));
        here = e.state;
        return e.negative_pivots;
    };
    EXPECT_EQ(negative_pivots(stable), 0);
    while (unstable - stable > 1e-8 * stable) {
        const double middle = 0.5 * (stable + unstable);
        (negative_pivots(middle) == 0 ? stable : unstable) = middle;
    }
    // One way out of the plane; a little above, where rounding no longer decides the sign.
    EXPECT_EQ(negative_pivots(1.0001 * unstable), 1);
    return stable;
}

/// Two legs of 240 × 30 × 0.6, E = 71240, ν = 0.31, J = b t³/3: along +x from the clamp, then along −y.
double right_angle_frame(const Vec3& direction, int beams_a_leg, double below, double above) {
    constexpr double length = 240, b = 30, t = 0.6, E = 71240, G = E / 2.62;
    const SectionStiffness section =
        narrow_section(E * b * t * t * t / 12, E * t * b * b * b / 12, G * b * t * t * t / 3, 1e7);
    const SectionAlong everywhere = [&](double) { return section; };
    Cantilever frame = make_cantilever(beams_a_leg, straight(length), everywhere);
    const Pose corner{exp<double>(Vec3(0, 0, -std::numbers::pi / 2)), Vec3(length, 0, 0)};
    const RestCurve leg = [&](double share) { return corner * straight(length)(share); };
    Frame end = Frame::on(frame.tip, Pose{corner.rotation, Vec3::Zero()});
    for (int i = 0; i < beams_a_leg; ++i) {
        const double from = static_cast<double>(i) / beams_a_leg, to = (i + 1.) / beams_a_leg;
        frame.tip = NodeId(beams_a_leg + i);
        frame.rest.nodes.push_back(leg(to));
        frame.elements.push_back(beam_along(leg, everywhere, from, to, end, Frame::on(frame.tip)));
        end = Frame::on(frame.tip);
    }
    return critical_load(frame, direction, below, above);
}

TEST(RightAngleFrame, BucklesSidewaysAtThePublishedForce) {
    const double found = right_angle_frame(Vec3::UnitX(), 16, 0.5, 1.3);
    expect_met(found, {1.088, 0.001, "Argyris et al., Comput. Methods Appl. Mech. Eng. 17/18 (1979)"});
}

TEST(RightAngleFrame, ConvergesToTheComputedForceOfEitherSign) {
    struct Case {
        Vec3 direction;
        double below, above, force;
    };
    // Computed: out-of-plane shooting determinant on the exact in-plane state, 1e-7.
    for (const Case& row :
         {Case{Vec3::UnitX(), 0.5, 1.3, 1.0875179}, Case{-Vec3::UnitX(), 0.3, 0.9, 0.68042741}}) {
        const double coarse = right_angle_frame(row.direction, 8, row.below, row.above);
        const double fine = right_angle_frame(row.direction, 16, row.below, row.above);
        EXPECT_NEAR(observed_order(coarse - row.force, fine - row.force), 2, 0.05);
        EXPECT_NEAR(extrapolated(coarse, fine), row.force, 2e-6);  // what the fourth order leaves
    }
}

/// P L² / √(EI_weak GJ) of a cantilever of length 1 and breadth over thickness as given, ν = 0.3.
double narrow_cantilever(double breadth, int beams) {
    const double GJ = 12 * torsion_constant(breadth, 1) / breadth / 2.6;  // EI_weak = 1
    const SectionStiffness section = narrow_section(1, breadth * breadth, GJ, 1e4 * breadth * breadth);
    const Cantilever c = make_cantilever(beams, straight(1), [&](double) { return section; });
    const double unit = std::sqrt(GJ);
    return critical_load(c, Vec3::UnitY(), 3.5 * unit, 4.6 * unit) / unit;
}

TEST(NarrowCantilever, TipsOverAtTheComputedForceWithItsBendingBefore) {
    struct Case {
        double breadth, force;
    };
    // Computed: shooting determinant on the exact in-plane state, 1e-8.
    for (const Case& row :
         {Case{5, 4.260823747}, Case{10, 4.071634455}, Case{20, 4.027331857}, Case{50, 4.014971075}}) {
        const double coarse = narrow_cantilever(row.breadth, 16), fine = narrow_cantilever(row.breadth, 32);
        EXPECT_NEAR(observed_order(coarse - row.force, fine - row.force), 2, 0.05);
        EXPECT_NEAR(extrapolated(coarse, fine), row.force, 2e-5)
            << row.breadth;  // what the fourth order leaves
    }
}

TEST(NarrowCantilever, OfFiftyTimesItsThicknessMeetsTheClassicalCoefficient) {
    const double found = extrapolated(narrow_cantilever(50, 16), narrow_cantilever(50, 32));
    // The classical solution leaves the bending before out, which adds about EI_weak / EI_strong.
    expect_met(found, {4.0126, 0.003, "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed. 1961"});
}

}  // namespace
}  // namespace limbwright::testing::buckling_test
