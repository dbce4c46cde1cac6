#include <gtest/gtest.h>

#include <array>

#include "tests/support/cantilever.hpp"
#include "tests/support/observed_order.hpp"

/// Cantilevers whose width and thickness fall linearly from root to tip, straight and curved at rest.
namespace limbwright::testing::tapered_test {
namespace {

double root_moment(const Cantilever& strip, const State& state) {
    const auto& root = dynamic_cast<const Beam&>(*strip.elements.front());
    return root.section_forces(state)[0].moment.z();
}

/// Length 1, EI = 1 at the root, curvature κ₀ at rest, dead tip force in +y. Computed: Runge–Kutta of order
/// 8, relative tolerance 1e-13; inextensible and rigid in shear.
struct Row {
    double width_ratio, thickness_ratio, curvature, load, x_tip, y_tip, turn, root_moment;
};
constexpr std::array<Row, 16> table{{
    {1, 0.5, 0, 4, 0.5721375657, 0.7110693189, 1.399408358, 2.288550263},
    {1, 0.5, 0.5, 4, 0.5114728015, 0.7408001897, 1.541032365, 2.045891206},
    {1, 0.5, -0.5, 4, 0.6318411296, 0.6750473791, 1.255277073, 2.527364518},
    {1, 0.5, -1, 4, 0.6903670461, 0.6322213552, 1.10718371, 2.761468185},
    {0.6, 1, 0, 4, 0.6447843293, 0.6837309671, 1.194418629, 2.579137317},
    {0.6, 1, 0.5, 4, 0.5660685115, 0.7251331669, 1.420259452, 2.264274046},
    {0.6, 1, -0.5, 4, 0.7214467054, 0.6290512021, 0.9605692357, 2.885786822},
    {0.6, 1, -1, 4, 0.7950243839, 0.5588968845, 0.7137013726, 3.180097536},
    {0.75, 0.5, 0, 4, 0.5579348529, 0.7152907294, 1.434085943, 2.231739412},
    {0.75, 0.5, 0.5, 4, 0.5007802597, 0.7436145477, 1.559189342, 2.003121039},
    {0.75, 0.5, -0.5, 4, 0.6141822348, 0.6815522126, 1.307174234, 2.456728939},
    {0.75, 0.5, -1, 4, 0.6693487944, 0.64202555, 1.17741246, 2.677395177},
    {0.5, 0.75, 0, 4, 0.5905477276, 0.7059339489, 1.343779474, 2.362190911},
    {0.5, 0.75, 0.5, 4, 0.5250640094, 0.7377089833, 1.511075725, 2.100256038},
    {0.5, 0.75, -0.5, 4, 0.6549622944, 0.6663970302, 1.172756289, 2.619849177},
    {0.5, 0.75, -1, 4, 0.7179935815, 0.6183004931, 0.99580349, 2.871974326},
}};

/// Moves the tip by P L/c and changes no turn, as on a strip without taper: the strain is n/c everywhere.
constexpr double c = 1e6;

Row bent(const Row& row, int beams) {
    const Cantilever strip = make_cantilever(beams, arc_about_z(1, row.curvature), [&](double s) {
        const double b = 1 - (1 - row.width_ratio) * s, t = 1 - (1 - row.thickness_ratio) * s;
        return plane_section(b * t * t * t, c);
    });
    const State state = under_tip_force(strip, Vec3(0, row.load, 0), 20);
    const Pose X = state.at(strip.tip);
    Row found = row;
    found.x_tip = X.position.x();
    found.y_tip = X.position.y() - row.load / c;
    found.turn = turn_about_z(X);
    found.root_moment = root_moment(strip, state);
    return found;
}

TEST(TaperedElastica, MeetsTheIntegratedOneOfAnyTaperAndRestCurvature) {
    constexpr double accuracy = 3e-6;  // discretisation with 32 beams at the largest load, error ∝ h⁴
    for (const Row& row : table) {
        const Row found = bent(row, 32);
        EXPECT_NEAR(found.x_tip, row.x_tip, accuracy) << row.curvature << ' ' << row.load;
        EXPECT_NEAR(found.y_tip, row.y_tip, accuracy) << row.curvature << ' ' << row.load;
        EXPECT_NEAR(found.turn, row.turn, accuracy) << row.curvature << ' ' << row.load;
        EXPECT_NEAR(found.root_moment, row.root_moment, row.load * accuracy)
            << row.curvature << ' ' << row.load;
    }
}

TEST(TaperedElastica, ConvergesWithTheFourthPowerOfTheBeamsLength) {
    for (const Row& row : table)
        EXPECT_NEAR(observed_order(bent(row, 8).y_tip - row.y_tip, bent(row, 16).y_tip - row.y_tip), 4, 0.1);
}

/// E = 45000 MPa, 330 mm long, 38 to 26 mm wide, 8.4 to 5.2 mm thick; dead tip force at 125° from +x.
/// Computed: Runge– Kutta, and by collocation to 1e-11 mm.
struct Dimensional {
    double curvature, force, x_tip, y_tip, turn, root_moment;
};
constexpr std::array<Dimensional, 6> dimensional{{
    {0, 100, 329.2631938, 19.19357759, 0.1044638465, 28072.56022},
    {0, 400, 315.517979, 83.71672336, 0.467334669, 122590.0549},
    {0, 1200, 226.2982794, 203.1291261, 1.276447086, 362259.3341},
    {-1. / 900, 100, 325.9164623, -44.55381411, -0.2832568633, 24142.01184},
    {-1. / 900, 400, 329.5176226, 15.6446818, 0.04652409246, 111559.382},
    {-1. / 900, 1200, 258.8763194, 174.9345681, 1.01291131, 374876.8949},
}};

TEST(TaperedElastica, OfALimbsSizeMeetsTheIntegratedOneInMillimetresAndNewtons) {
    constexpr double length = 330, stiff = 1e8;
    for (const Dimensional& row : dimensional) {
        const Cantilever strip = make_cantilever(32, arc_about_z(length, row.curvature), [&](double s) {
            const double b = 38 - 12 * s, t = 8.4 - 3.2 * s;
            return plane_section(45000 * b * t * t * t / 12, stiff);
        });
        const double angle = 125 * std::numbers::pi / 180;
        const Vec3 force = row.force * Vec3(std::cos(angle), std::sin(angle), 0);
        const State state = under_tip_force(strip, force, 20);
        const Pose X = state.at(strip.tip);
        const Vec3 p = X.position - length / stiff * force;
        // Discretisation with 32 beams: 2e-6 of the length.
        EXPECT_NEAR(p.x(), row.x_tip, 2e-6 * length) << row.force;
        EXPECT_NEAR(p.y(), row.y_tip, 2e-6 * length) << row.force;
        EXPECT_NEAR(turn_about_z(X), row.turn, 2e-6) << row.force;
        EXPECT_NEAR(root_moment(strip, state), row.root_moment, 2e-6 * row.force * length) << row.force;
    }
}

/// Deflection EI₀/(P L³) and slope EI₀/(P L²) under a small tip force, and under a tip moment EI₀/(M L²),
/// EI₀/(M L), of strips tapered to a share r in thickness, width, or both. Computed: closed forms.
struct Linear {
    double width_ratio, thickness_ratio, deflection, slope, moment_deflection, moment_slope;
};
constexpr std::array<Linear, 9> linear{{
    {1, 1, 0.333333333333, 0.5, 0.5, 1},
    {1, 0.7, 0.432405331064, 0.714285714286, 0.714285714286, 1.73469387755},
    {1, 0.5, 0.54517744448, 1, 1, 3},
    {1, 0.3, 0.755022753137, 1.66666666667, 1.66666666667, 7.22222222222},
    {0.7, 1, 0.361878612221, 0.559194880477, 0.559194880477, 1.1889164798},
    {0.5, 1, 0.38629436112, 0.61370563888, 0.61370563888, 1.38629436112},
    {0.3, 1, 0.417952047782, 0.691445221841, 0.691445221841, 1.71996114904},
    {0.7, 0.7, 0.47619047619, 0.816326530612, 0.816326530612, 2.12827988338},
    {0.5, 0.5, 0.666666666667, 1.33333333333, 1.33333333333, 4.66666666667},
}};

/// Linear answer to a tip force of 1 and to a tip moment of 1, from the tangent at rest.
Linear linear_answer(const Linear& row, int beams) {
    const Cantilever strip = make_cantilever(beams, straight(1), [&](double s) {
        const double b = 1 - (1 - row.width_ratio) * s, t = 1 - (1 - row.thickness_ratio) * s;
        return plane_section(b * t * t * t, 1e9);
    });
    const System system(numbering_of_nodes(strip.rest), strip.elements);
    Workspace w(system);
    assemble(system, strip.rest, w.gradient, w.sizes, w.tangent);
    EXPECT_TRUE(w.factor.factor(w.tangent, {}));
    const int first = system.numbering().first(strip.tip), size = system.numbering().size();
    const VecX force = w.factor.solve(VecX::Unit(size, first + 1));
    const VecX moment = w.factor.solve(VecX::Unit(size, first + 5));
    return {row.width_ratio,  row.thickness_ratio, force[first + 1],
            force[first + 5], moment[first + 1],   moment[first + 5]};
}

TEST(TaperedBeam, IsExactAtTheNodesForSmallLoadsWithFewBeams) {
    for (const Linear& row : linear) {
        const Linear found = linear_answer(row, 6);
        // Three Gauss points along a beam whose thickness falls by a seventh, error ∝ (1 − r)⁶ in each.
        constexpr double accuracy = 1e-5;
        EXPECT_NEAR(found.deflection, row.deflection, accuracy * row.deflection) << row.thickness_ratio;
        EXPECT_NEAR(found.slope, row.slope, accuracy * row.slope) << row.thickness_ratio;
        EXPECT_NEAR(found.moment_deflection, row.moment_deflection, accuracy * row.moment_deflection);
        EXPECT_NEAR(found.moment_slope, row.moment_slope, accuracy * row.moment_slope);
    }
}

TEST(TaperedBeam, WithoutTaperIsExactWithASingleBeam) {
    const Linear found = linear_answer(linear[0], 1);
    constexpr double rounding = 1e-8;  // GA = 1e9 leaves 1e-9
    EXPECT_NEAR(found.deflection, 1. / 3, rounding);
    EXPECT_NEAR(found.slope, 0.5, rounding);
    EXPECT_NEAR(found.moment_deflection, 0.5, rounding);
    EXPECT_NEAR(found.moment_slope, 1, rounding);
}

}  // namespace
}  // namespace limbwright::testing::tapered_test
