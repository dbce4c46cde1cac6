#include <gtest/gtest.h>

#include <array>

#include "solver/elements/cable.hpp"
#include "tests/support/cantilever.hpp"
#include "tests/support/observed_order.hpp"

/// Two straight strips clamped at (0, ±c), mirror images of each other, leaning by a clamp angle from ±y
/// toward +x, their tips joined by a string that first bends them and is then pulled at its midpoint along
/// +x. Computed: elliptic integrals at 30 digits; strips and string inextensible, strips rigid in shear,
/// length 1 and EI = 1.
namespace limbwright::testing::strips_and_string_test {
namespace {

struct Row {
    double pull, F, T, tip_turn, root_moment, energy;  // energy: change of both strips
};
struct Strips {
    double offset, half_string, clamp_angle, midpoint;
    std::vector<Row> rows;
};

const Strips set_A{0,
                   0.9,
                   0,
                   0.389848622751,
                   {
                       {0, 0, 2.59814098707, 0.63921428621, 1.01288168552, 0},
                       {0.08, 0.372249266164, 2.27735835933, 0.645496637034, 1.06643411469, 0.0158452697677},
                       {0.16, 0.645508045553, 2.08705205655, 0.667734389956, 1.13375747771, 0.0569774106591},
                       {0.24, 0.875839080955, 1.97598134748, 0.70076678877, 1.21362019677, 0.118004758223},
                       {0.32, 1.09078654734, 1.91725895449, 0.741649325243, 1.30473731379, 0.196710987681},
                       {0.4, 1.30615389231, 1.89652842433, 0.788658146524, 1.40635437744, 0.292545644036},
                       {0.48, 1.53304915861, 1.90640088841, 0.840788103278, 1.51832928425, 0.4060040298},
                       {0.56, 1.78131625155, 1.94384676733, 0.897491328701, 1.64114172091, 0.538402599203},
                       {0.64, 2.06171714945, 2.00910131586, 0.95853933459, 1.77594959837, 0.691868957729},
                       {0.72, 2.38799400194, 2.10552340331, 1.02395387783, 1.92474758281, 0.869495737125},
                       {0.8, 2.77969927671, 2.24034072672, 1.09398080936, 2.09069796158, 1.07568368368},
                   }};
const Strips set_B{0.35,
                   1.25,
                   0,
                   0.389848622751,
                   {
                       {0, 0, 2.59814098707, 0.63921428621, 1.01288168552, 0},
                       {0.1, 0.342309569008, 2.30427602461, 0.647194030698, 1.06572426522, 0.0181181329693},
                       {0.2, 0.600868940924, 2.12857765298, 0.673364256026, 1.13781755694, 0.0657242352175},
                       {0.3, 0.82368589688, 2.028521366, 0.712006801739, 1.2260833366, 0.137124328024},
                       {0.4, 1.03557706371, 1.9800364722, 0.759748809949, 1.32828187382, 0.230107436506},
                       {0.5, 1.25140056741, 1.96995096287, 0.81459814191, 1.44319019183, 0.34437474008},
                       {0.6, 1.48217816625, 1.99167626286, 0.875405136403, 1.57051706397, 0.480886589604},
                       {0.7, 1.73831970925, 2.04302963269, 0.941568067775, 1.71084464722, 0.641654007782},
                       {0.8, 2.03190213325, 2.12538736216, 1.01287543602, 1.86568154966, 0.829794146268},
                       {0.9, 2.37911250652, 2.24383956179, 1.08942916756, 2.03768236639, 1.04981373003},
                       {1, 2.80394979677, 2.40846724958, 1.17162117776, 2.23113521375, 1.30818877473},
                       {1.1, 3.34511725538, 2.63751265478, 1.26015054786, 2.45295364867, 1.61445098543},
                   }};
const Strips set_C{0.35,
                   1.25,
                   -15 * std::numbers::pi / 180,
                   0.318230685481,
                   {
                       {0, 0, 4.03905307114, 0.705315867958, 1.28535062752, 0},
                       {0.1, 0.511782025447, 3.5512422272, 0.710141408257, 1.39181578811, 0.027137245536},
                       {0.2, 0.887211843419, 3.22567791907, 0.733975901755, 1.50050011891, 0.0978742903988},
                       {0.3, 1.19478053927, 3.01086716125, 0.770905525431, 1.6153168647, 0.202349851571},
                       {0.4, 1.47241157556, 2.87449871749, 0.817326583878, 1.73802003571, 0.335848038673},
                       {0.5, 1.74316050438, 2.79718926857, 0.871066633977, 1.86975045837, 0.496609745121},
                       {0.6, 2.0233961142, 2.76798340676, 0.930841124313, 2.01169976518, 0.684798593763},
                       {0.7, 2.32732157835, 2.78175681519, 0.995939455103, 2.16545230629, 0.902077609107},
                       {0.8, 2.67004771143, 2.83802781878, 1.06604839626, 2.33325953031, 1.15155209876},
                       {0.9, 3.07055669207, 2.94089297209, 1.14115667676, 2.51838989937, 1.4380047771},
                       {1, 3.55578034905, 3.10018676828, 1.22150867509, 2.72569781418, 1.7684713623},
                       {1.1, 4.16773182421, 3.33457878161, 1.30758628868, 2.96265812791, 2.15335435802},
                   }};

/// The same in millimetres and newtons: forces scale by EI/l², energies and moments by EI/l.
constexpr double length = 400, bending = 4e7;
constexpr double force_unit = bending / (length * length), energy_unit = bending / length;

/// Clamped at (0, ±c), axis 1 at the clamp angle from ±y toward +x, curvature at rest none.
RestCurve clamped(const Strips& s, bool up) {
    const double angle = std::numbers::pi / 2 - s.clamp_angle;
    const Pose root{exp<double>(Vec3(0, 0, up ? angle : -angle)),
                    Vec3(0, length * (up ? s.offset : -s.offset), 0)};
    return [=](double share) { return root * straight(length)(share); };
}

/// @param rigid  EA l²/EI and GA l²/EI
std::vector<Row> pull(const Strips& s, int beams, double rigid) {
    const SectionAlong section = [&](double) { return plane_section(bending, rigid * force_unit); };
    State state;
    System::Elements elements;
    std::array<NodeId, 2> tips;
    for (const bool up : {true, false}) {
        const RestCurve curve = clamped(s, up);
        Frame end = Frame::on_ground(curve(0));
        for (int i = 0; i < beams; ++i) {
            const double from = static_cast<double>(i) / beams, to = (i + 1.) / beams;
            const NodeId node(static_cast<int>(state.nodes.size()));
            // The start: an arc that turns the tip as far as the string will.
            const double turn = s.rows[0].tip_turn - s.clamp_angle;
            Vec6 bent;
            bent << length, 0, 0, 0, 0, up ? -turn : turn;
            state.nodes.push_back(curve(0) * exp_pose(to * bent));
            elements.push_back(beam_along(curve, section, from, to, end, Frame::on(node)));
            end = Frame::on(node);
            tips[up ? 0 : 1] = node;
        }
    }
    const ScalarId midpoint(0);
    state.scalars = {length * s.midpoint};
    const Frame middle = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), midpoint, {}});
    const double T0 = s.rows[0].T * force_unit;
    const auto string_of = [&](double EA) {  // of the given length under the given tension
        return Cable({{Frame::on(tips[0]), {}}, {middle, {}}, {Frame::on(tips[1]), {}}},
                     {EA, 2 * length * s.half_string / (1 + T0 / EA)});
    };
    const std::size_t cable = elements.size();
    elements.push_back(std::make_shared<Cable>(string_of(100 * T0)));
    const System soft(numbering_of_nodes(state), elements);
    const std::vector<int> held{soft.numbering().first(midpoint)};
    Workspace workspace(soft);
    const State strung = found(find_equilibrium(soft, state, held, workspace)).state;
    const Cable string = string_of(1e7 * T0);
    const System system = soft.with(cable, std::make_shared<Cable>(string));

    std::vector<double> wanted;
    for (const Row& row : s.rows) wanted.push_back(length * (s.midpoint + row.pull));
    const auto& root = dynamic_cast<const Beam&>(*elements.front());
    std::vector<Row> rows;
    double energy = 0;
    for (const PathState& at : all_states(trace(system, strung, midpoint, wanted, held, workspace))) {
        EXPECT_EQ(at.equilibrium.negative_pivots, 0);
        const State& here = at.equilibrium.state;
        if (rows.empty()) energy = at.equilibrium.energy;
        const Pose tip = clamped(s, true)(0).inverse() * here.at(tips[0]);
        rows.push_back({at.parameter / length - s.midpoint, at.force / force_unit,
                        string.tension(here) / force_unit, s.clamp_angle - turn_about_z(tip),
                        -root.section_forces(here)[0].moment.z() / energy_unit,
                        (at.equilibrium.energy - energy) / energy_unit});
    }
    return rows;
}

/// The strips' stretch and shear, T l²/EA, act on the results in proportion: two stiffnesses tell the
/// inextensible ones.
std::vector<Row> inextensible(const Strips& s, int beams) {
    const std::vector<Row> softer = pull(s, beams, 1e5), stiffer = pull(s, beams, 2e5);
    std::vector<Row> rows = stiffer;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Row &a = softer[i], &b = stiffer[i];
        rows[i] = {b.pull,
                   extrapolated(a.F, b.F, 1),
                   extrapolated(a.T, b.T, 1),
                   extrapolated(a.tip_turn, b.tip_turn, 1),
                   extrapolated(a.root_moment, b.root_moment, 1),
                   extrapolated(a.energy, b.energy, 1)};
    }
    return rows;
}

void expect_met_along_the_pull(const Strips& s) {
    const std::vector<Row> rows = inextensible(s, 32);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Row &is = rows[i], &should = s.rows[i];
        constexpr double accuracy = 1e-6;
        EXPECT_NEAR(is.F, should.F, accuracy) << should.pull;
        EXPECT_NEAR(is.T, should.T, accuracy) << should.pull;
        EXPECT_NEAR(is.tip_turn, should.tip_turn, accuracy) << should.pull;
        EXPECT_NEAR(is.root_moment, should.root_moment, accuracy) << should.pull;
        EXPECT_NEAR(is.energy, should.energy, accuracy) << should.pull;
    }
}

TEST(StripsAndString, RootedTogetherPullAsTheEllipticIntegrals) {
    expect_met_along_the_pull(set_A);
}

TEST(StripsAndString, RootedApartPullAsTheEllipticIntegrals) {
    expect_met_along_the_pull(set_B);
}

TEST(StripsAndString, LeaningAwayFromTheStringPullAsTheEllipticIntegrals) {
    expect_met_along_the_pull(set_C);
}

TEST(StripsAndString, ConvergeWithTheFourthPowerOfTheBeamsLength) {
    const auto force = [](int beams) { return pull(set_C, beams, 1e5).back().F; };
    const double coarse = force(4), middle = force(8), fine = force(16);
    EXPECT_NEAR(observed_order(coarse - middle, middle - fine), 4, 0.2);
}

}  // namespace
}  // namespace limbwright::testing::strips_and_string_test
