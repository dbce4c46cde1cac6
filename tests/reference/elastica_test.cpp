#include <gtest/gtest.h>

#include <array>

#include "tests/support/cantilever.hpp"
#include "tests/support/observed_order.hpp"
#include "tests/support/reference.hpp"

/// Cantilevers of length 1 and bending stiffness 1 along +x, bent in the x-y plane by a dead tip force.
namespace limbwright::testing::elastica_test {
namespace {

/// Computed: closed form with elliptic integrals at 40 digits, and by Runge–Kutta shooting to 1e-13.
struct Row {
    double load, x_tip, y_tip, turn, root_moment;
};
using Table = std::array<Row, 20>;

constexpr Table transverse{{
    {0.2, 0.997353451659, 0.0663644821448, 0.0996361630374, 0.199470690332},
    {0.4, 0.989646078451, 0.130975242085, 0.197154623703, 0.39585843138},
    {0.6, 0.977512332021, 0.192350279687, 0.290737766841, 0.586507399213},
    {0.8, 0.961834386759, 0.249451542028, 0.379063007613, 0.769467509408},
    {1, 0.943566763717, 0.3017207738, 0.461351949712, 0.943566763717},
    {1.2, 0.923599674143, 0.349010076194, 0.537304083196, 1.10831960897},
    {1.4, 0.902683186667, 0.391465722235, 0.606975544527, 1.26375646133},
    {1.6, 0.881403919507, 0.429412751703, 0.67065377265, 1.41024627121},
    {1.8, 0.860194547339, 0.463263878769, 0.72875475478, 1.54835018521},
    {2, 0.839358279175, 0.493457480397, 0.781749831557, 1.67871655835},
    {2.5, 0.790041542629, 0.555659462661, 0.894996750991, 1.97510385657},
    {3, 0.745579815436, 0.60325344113, 0.986016946711, 2.23673944631},
    {3.5, 0.706060557631, 0.640391685594, 1.06011693845, 2.47121195171},
    {4, 0.671058757753, 0.669964181278, 1.12123934749, 2.68423503101},
    {5, 0.612371639276, 0.713791523612, 1.21536811761, 3.06185819638},
    {6, 0.565411171318, 0.74457114889, 1.2836972858, 3.39246702791},
    {7, 0.527072571614, 0.76736909974, 1.33495985747, 3.6895080013},
    {8, 0.495172267866, 0.784982374953, 1.3744315067, 3.96137814293},
    {9, 0.468179437327, 0.799055527471, 1.40546533362, 4.21361493595},
    {10, 0.445004402246, 0.81060902488, 1.4302855388, 4.45004402246},
}};
constexpr Table toward_the_clamp{{
    {0.2, 0.9985063518, 0.04983879694, 0.07497397109, 0.1482583927},
    {0.4, 0.9933328273, 0.1050670583, 0.1587185515, 0.310674403},
    {0.6, 0.9833832881, 0.1652753872, 0.2511498206, 0.4873346031},
    {0.8, 0.9676504032, 0.2293798644, 0.351368219, 0.6771425756},
    {1, 0.945494393, 0.2955738358, 0.4575102391, 0.8775677605},
    {1.2, 0.9169094981, 0.3615345828, 0.5668823178, 1.084795775},
    {1.4, 0.8826206112, 0.4248705437, 0.6764123484, 1.294350207},
    {1.6, 0.8439289036, 0.4836126797, 0.7832380427, 1.501941849},
    {1.8, 0.8023901672, 0.5365147466, 0.8851566276, 1.704147739},
    {2, 0.7594972369, 0.5830784316, 0.980786943, 1.898688719},
    {2.5, 0.6536350044, 0.6731618307, 1.189438848, 2.345467598},
    {3, 0.5572014512, 0.732977058, 1.357396841, 2.736881918},
    {3.5, 0.4730885075, 0.7720714553, 1.492342766, 3.081613687},
    {4, 0.4006862357, 0.7975749497, 1.601853632, 3.389194439},
    {5, 0.2844632016, 0.8249269931, 1.766888275, 3.922286649},
    {6, 0.1962004117, 0.8358363596, 1.883935755, 4.378561196},
    {7, 0.1270711583, 0.8390934788, 1.970328632, 4.782270967},
    {8, 0.07137389436, 0.8386566742, 2.036096186, 5.147910289},
    {9, 0.02540769056, 0.8364238028, 2.087388335, 5.484662039},
    {10, -0.01329585198, 0.8333500415, 2.128172373, 5.798658783},
}};
constexpr Table away_from_the_clamp{{
    {0.2, 0.9988110955, 0.04452876387, 0.06666357439, 0.1349559016},
    {0.4, 0.9957559166, 0.0841137471, 0.1257630968, 0.257851344},
    {0.6, 0.9914596361, 0.1192516661, 0.178145518, 0.3700465021},
    {0.8, 0.9863810065, 0.1504701799, 0.2246475618, 0.4728625712},
    {1, 0.9808471807, 0.1782735527, 0.2660399426, 0.5675052548},
    {1.2, 0.9750867096, 0.2031177898, 0.3030056775, 0.6550373496},
    {1.4, 0.9692565476, 0.2254027415, 0.3361370596, 0.7363776988},
    {1.6, 0.9634626193, 0.2454729948, 0.3659416592, 0.8123125317},
    {1.8, 0.9577748833, 0.2636227565, 0.392851919, 0.8835114169},
    {2, 0.9522381333, 0.2801021241, 0.4172355216, 0.9505438599},
    {2.5, 0.9392069944, 0.3153087819, 0.4690807367, 1.102906642},
    {3, 0.9274218909, 0.3438600567, 0.5107294031, 1.237921591},
    {3.5, 0.9168428116, 0.3674764658, 0.5447543624, 1.35961234},
    {4, 0.9073585108, 0.3873471752, 0.5729544104, 1.470814167},
    {5, 0.8911687553, 0.4189864606, 0.6166866055, 1.669416513},
    {6, 0.8779324995, 0.4431424727, 0.6486925605, 1.844657858},
    {7, 0.8669379849, 0.4622746323, 0.6728535046, 2.002981405},
    {8, 0.8576649365, 0.4778676247, 0.6915423703, 2.148458037},
    {9, 0.8497349421, 0.4908691646, 0.7062856291, 2.283807823},
    {10, 0.8428699068, 0.5019124429, 0.7181063721, 2.410933348},
}};

/// The tables are inextensible and rigid in shear. With EA = GA = c the strain is n/c, the turns are those of
/// the table, and the tip merely moves on by P L/c along the force (M. Batista, Int. J. Solids Struct. 87
/// (2016)).
constexpr double c = 1e6;

Row at(const Cantilever& strip, const State& state, double load, const Vec3& direction) {
    const Pose X = state.at(strip.tip);
    const Vec3 p = X.position - load / c * direction;
    const auto& root = dynamic_cast<const Beam&>(*strip.elements.front());
    return {load, p.x(), p.y(), turn_about_z(X), root.section_forces(state)[0].moment.z()};
}

Cantilever strip_of(int beams) {
    return make_cantilever(beams, straight(1), [](double) { return plane_section(1, c); });
}

std::vector<Row> computed(const Table& table, const Vec3& direction, int beams) {
    std::vector<Vec3> forces;
    for (const Row& row : table) forces.push_back(row.load * direction);
    const Cantilever strip = strip_of(beams);
    std::vector<Row> rows;
    for (const Equilibrium& e : under_tip_forces(strip, forces)) {
        EXPECT_EQ(e.negative_pivots, 0);
        rows.push_back(at(strip, e.state, forces[rows.size()].norm(), direction));
    }
    return rows;
}

void expect_rows(const Table& table, const Vec3& direction) {
    constexpr double accuracy = 3e-7;  // discretisation with 32 beams at the largest load, error ∝ h⁴
    const std::vector<Row> rows = computed(table, direction, 32);
    for (std::size_t i = 0; i < table.size(); ++i) {
        EXPECT_NEAR(rows[i].x_tip, table[i].x_tip, accuracy) << table[i].load;
        EXPECT_NEAR(rows[i].y_tip, table[i].y_tip, accuracy) << table[i].load;
        EXPECT_NEAR(rows[i].turn, table[i].turn, accuracy) << table[i].load;
        EXPECT_NEAR(rows[i].root_moment, table[i].root_moment, table[i].load * accuracy) << table[i].load;
    }
}

const Vec3 diagonal = Vec3(1, 1, 0) / std::sqrt(2), back_diagonal = Vec3(-1, 1, 0) / std::sqrt(2);

TEST(Elastica, UnderATransverseForceMeetsTheEllipticIntegrals) {
    expect_rows(transverse, Vec3::UnitY());
}

TEST(Elastica, PushedTowardItsClampMeetsTheTableEvenWhereTheTipHasPassedTheClamp) {
    expect_rows(toward_the_clamp, back_diagonal);
}

TEST(Elastica, PulledAwayFromItsClampMeetsTheTable) {
    expect_rows(away_from_the_clamp, diagonal);
}

TEST(Elastica, ConvergesWithTheFourthPowerOfTheBeamsLength) {
    const auto error = [](int beams) {
        return computed(transverse, Vec3::UnitY(), beams).back().y_tip - transverse.back().y_tip;
    };
    const double coarse = error(8), fine = error(16);
    EXPECT_LT(std::abs(coarse), 2e-5);
    EXPECT_NEAR(observed_order(coarse, fine), 4, 0.2);  // constant strain alone would give 2
}

TEST(Elastica, MeetsThePublishedDeflections) {
    constexpr const char* source = "Mattiasson, Int. J. Numer. Methods Eng. 17 (1981), table 1";
    constexpr double half_a_digit = 5.5e-6;
    struct Published {
        double load, deflection, shortening;
    };
    const std::vector<Row> rows = computed(transverse, Vec3::UnitY(), 16);
    for (const Published& p : {Published{1, 0.30172, 0.05643}, Published{2, 0.49346, 0.16064},
                               Published{5, 0.71379, 0.38763}, Published{10, 0.81061, 0.55500}}) {
        const auto row =
            std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.load == p.load; });
        ASSERT_NE(row, rows.end());
        expect_met(row->y_tip, {p.deflection, half_a_digit, source});
        expect_met(1 - row->x_tip, {p.shortening, half_a_digit, source});
    }
}

/// A chain whose end moves freely in space and turns about z by a scalar alone.
struct RolledUp {
    State rest;
    System system;
    ScalarId turn{0};
    PointId end{0};

    static RolledUp make(int beams) {
        Cantilever strip = strip_of(beams);
        strip.rest.points = {strip.rest.nodes.back().position};
        strip.rest.nodes.pop_back();
        strip.rest.scalars = {0};
        const Frame end = Frame::on(PointId(0)).then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(0), {}});
        const double from = (beams - 1.) / beams;
        strip.elements.back() = beam_along(
            straight(1), [](double) { return plane_section(1, c); }, from, 1, Frame::on(NodeId(beams - 2)),
            end);
        return {strip.rest, System({.nodes = beams - 1, .points = 1, .scalars = 1}, strip.elements)};
    }
};

TEST(Elastica, RollsUpUnderAnEndMomentToOneAndAHalfExactCircles) {
    for (const int beams : {4, 8}) {
        const RolledUp strip = RolledUp::make(beams);
        Workspace workspace(strip.system);
        std::vector<double> turns;
        for (int i = 1; i <= 30; ++i) turns.push_back(0.1 * std::numbers::pi * i);
        const std::vector<int> held{strip.system.numbering().first(strip.turn)};
        for (const PathState& s :
             all_states(trace(strip.system, strip.rest, strip.turn, turns, held, workspace))) {
            const double f = s.parameter;
            // One strain along the whole strip: the beam is exact. Newton stops at an energy error of
            // 1e-20 (1 + energy), energy 44 at the end, so moments are good to the root of that.
            EXPECT_NEAR(s.force, f, 1e-8);
            EXPECT_NEAR(s.equilibrium.state.at(strip.end).x(), std::sin(f) / f, 1e-9);
            EXPECT_NEAR(s.equilibrium.state.at(strip.end).y(), (1 - std::cos(f)) / f, 1e-9);
            EXPECT_NEAR(s.stiffness, 1, 1e-6);  // rounding of c = 1e6 that cancels in it
        }
    }
}

/// EI = 10, P = 10, L = 1. Computed: Reissner's beam by Runge–Kutta shooting to 1e-12; data set as in M.
/// Batista, Int. J. Solids Struct. 87 (2016).
struct Flexible {
    double EA, GA, shortening, deflection, turn, root_moment;
};

Flexible bent(const Flexible& given, int beams) {
    const Cantilever strip = make_cantilever(beams, straight(1), [&](double) {
        return diagonal_section(given.EA, given.GA, given.GA, 10, 10, 10);
    });
    const State state = under_tip_force(strip, Vec3(0, 10, 0), 100);
    const Pose X = state.at(strip.tip);
    const auto& root = dynamic_cast<const Beam&>(*strip.elements.front());
    return {given.EA,       given.GA,        1 - X.position.x(),
            X.position.y(), turn_about_z(X), root.section_forces(state)[0].moment.z()};
}

constexpr std::array<Flexible, 4> flexible{{
    {1e7, 500, 0.0613156340724, 0.317813893315, 0.458409551308, 9.38684365928},
    {1e7, 100, 0.0804025508849, 0.382816834397, 0.446895708136, 9.19597449115},
    {1e7, 10, 0.25213659096, 1.16709588726, 0.342823212333, 7.4786340904},
    {500, 500, 0.0564332362834, 0.3217207738, 0.461351949712, 9.43566763717},
}};

TEST(ShearFlexibleElastica, MeetsReissnersBeam) {
    // The table has EA = 1e8; 1e7 moves the tip by P L/EA = 1e-6 at most. The rest is discretisation, error ∝
    // h².
    for (const Flexible& row : flexible) {
        const Flexible coarse = bent(row, 16), fine = bent(row, 32);
        EXPECT_NEAR(extrapolated(coarse.shortening, fine.shortening), row.shortening, 2e-6) << row.GA;
        EXPECT_NEAR(extrapolated(coarse.deflection, fine.deflection), row.deflection, 2e-6) << row.GA;
        EXPECT_NEAR(extrapolated(coarse.turn, fine.turn), row.turn, 2e-6) << row.GA;
        EXPECT_NEAR(extrapolated(coarse.root_moment, fine.root_moment), row.root_moment, 2e-5) << row.GA;
    }
}

TEST(ShearFlexibleElastica, ConvergesWithTheSquareOfTheBeamsLength) {
    const Flexible& row = flexible[2];
    const double coarse = bent(row, 8).deflection - row.deflection,
                 fine = bent(row, 16).deflection - row.deflection;
    EXPECT_NEAR(observed_order(coarse, fine), 2, 0.1);
}

}  // namespace
}  // namespace limbwright::testing::elastica_test
