#include <gtest/gtest.h>

#include <array>

#include "tests/support/cantilever.hpp"
#include "tests/support/reference.hpp"

namespace limbwright::testing::torsion_test {
namespace {

/// J / (b t³) by breadth over thickness. Computed: the series of Saint-Venant at 30 digits.
struct Torsion {
    double breadth, share;
};
constexpr std::array<Torsion, 12> torsion{{
    {1, 0.140577015},
    {1.2, 0.1661189101},
    {1.5, 0.1957607089},
    {2, 0.2286816771},
    {2.5, 0.2493650747},
    {3, 0.263316931},
    {4, 0.2808129583},
    {5, 0.2913167542},
    {10, 0.3123250375},
    {20, 0.3228291854},
    {50, 0.3291316742},
    {100, 0.3312325037},
}};

TEST(TorsionConstant, MeetsTheSeriesOfSaintVenant) {
    constexpr double t = 0.7, printed = 1e-10;
    for (const Torsion& row : torsion) {
        const double b = row.breadth * t;
        EXPECT_NEAR(torsion_constant(b, t) / (b * t * t * t), row.share, printed) << row.breadth;
        EXPECT_NEAR(torsion_constant(t, b) / (b * t * t * t), row.share, printed) << row.breadth;
    }
}

TEST(TorsionConstant, MeetsThePublishedTable) {
    constexpr const char* source = "Timoshenko & Goodier, Theory of Elasticity, torsion of rectangular bars";
    for (const Torsion& row :
         {Torsion{1, 0.1406}, Torsion{1.2, 0.166}, Torsion{1.5, 0.196}, Torsion{2, 0.229}, Torsion{3, 0.263},
          Torsion{4, 0.281}, Torsion{5, 0.291}, Torsion{10, 0.312}})
        expect_met(torsion_constant(row.breadth, 1) / row.breadth, {row.share, 5e-4, source});
}

/// Strips of 300 mm; G × tip turn / end torque [mm⁻³]. Computed: ∫ dx/J by quadrature to 1e-11.
struct Twist {
    double b_root, b_tip, t_root, t_tip, turn;
};
constexpr std::array<Twist, 6> twists{{
    {40, 40, 8, 8, 0.05028353944},
    {40, 20, 8, 8, 0.07460742693},
    {40, 40, 8, 4, 0.1439797188},
    {40, 20, 8, 4, 0.2346565174},
    {45, 25, 10, 5, 0.1007482775},
    {30, 30, 12, 3, 0.1934881073},
}};

TEST(TaperedStrip, TwistsAsTheIntegralOfItsFlexibility) {
    constexpr double G = 4000, torque = 20000;
    for (const Twist& row : twists) {
        const SectionAlong section = [&](double s) {
            return rectangle({40000, G}, row.b_root + s * (row.b_tip - row.b_root),
                             row.t_root + s * (row.t_tip - row.t_root));
        };
        const int beams = 12;
        Cantilever strip = make_cantilever(beams, straight(300), section);
        const ScalarId turn(0);
        // The tip turns about x alone, by a scalar, so that the torque's axis is fixed.
        strip.rest.nodes.pop_back();
        strip.rest.scalars = {0};
        const Frame tip =
            Frame::on_ground(straight(300)(1)).then(Joint{JointKind::hinge, Vec3::UnitX(), turn, {}});
        strip.elements.back() =
            beam_along(straight(300), section, (beams - 1.) / beams, 1, Frame::on(NodeId(beams - 2)), tip);
        strip.elements.push_back(
            std::make_shared<Spring>(std::vector{std::pair{turn, 1.}}, Spring::Data{.load = torque}));
        const System system(numbering_of_nodes(strip.rest), strip.elements);
        Workspace workspace(system);
        const Equilibrium e = found(find_equilibrium(system, strip.rest, {}, workspace));
        constexpr double accuracy = 1e-6;  // three Gauss points in each of twelve beams
        EXPECT_NEAR(G * e.state.at(turn) / torque, row.turn, accuracy * row.turn) << row.t_tip;
    }
}

}  // namespace
}  // namespace limbwright::testing::torsion_test
