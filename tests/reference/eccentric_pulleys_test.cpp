#include <gtest/gtest.h>

#include <array>

#include "solver/elements/cable.hpp"
#include "solver/elements/spring.hpp"
#include "tests/support/found.hpp"
#include "tests/support/observed_order.hpp"

/// Eccentric circular pulleys, rigid, mirror images of each other about y = 0, joined by a string whose
/// midpoint is pulled along +x. Turns and angles are positive clockwise for the upper half. Computed: root
/// finding to 1e-13 on the geometry of tangents and on the balance of moments; invented dimensions in mm, N.
namespace limbwright::testing::eccentric_pulleys_test {
namespace {

using namespace limbwright::solver;
using std::numbers::pi;

constexpr double degree = pi / 180;

/// Axes of one half at a place: the upper half's are turned over about x, so that both halves look alike, in
/// their own u-v plane, with u = x, v = −|y|.
Frame half(double x, double y, bool up) {
    const Rotation turned_over = exp<double>(Vec3(pi, 0, 0));
    return Frame::on_ground({up ? turned_over : Rotation{}, Vec3(x, up ? y : -y, 0)});
}

Joint hinge(ScalarId angle, const Vec3& arm = Vec3::Zero()) {
    return {JointKind::hinge, Vec3::UnitZ(), angle, Pose{{}, arm}};
}

/// Circle with its centre off the axle, at an angle counted against the pulley's turn, as the references do.
std::shared_ptr<const Groove> track(double radius, double off, double angle) {
    return std::make_shared<const Groove>(
        Groove::circle(off * Vec2(std::cos(angle * degree), -std::sin(angle * degree)), radius));
}

/// String from the pulley's +x side; it unwinds as the pulley turns.
Contact string_end(const Frame& pulley, std::shared_ptr<const Groove> groove) {
    return {pulley, solver::Sheave{std::move(groove), 1, -0.5, -0.5, -2 * pi}};
}

/// A cable that carries this tension in this state, stretched by a small share of its length.
std::shared_ptr<Cable> strung(const std::vector<Contact>& contacts, double tension, double stretch,
                              const State& state) {
    const Cable path(contacts, {.dead_tension = tension});
    return std::make_shared<Cable>(
        path.with({.stiffness = tension / stretch, .natural_length = path.length(state) / (1 + stretch)}));
}

/// The references' cables do not stretch. Ours do by 1e-4 or half of it, and act on the results in
/// proportion: the two tell the unstretched ones, up to a few times the square of that.
constexpr double stretch = 1e-4, accuracy = 1e-6;

/// Where the midpoint is held, the halves can only turn against each other, or the string must stretch: the
/// sign of the energy's curvature that way is the state's stability, and the pivots must know it.
void expect_pivots_tell_the_curvature(const System& system, const Equilibrium& e,
                                      const VecX& against_each_other) {
    constexpr double h = 1e-3;  // rad
    const double curvature = total_energy(system, moved(e.state, VecX(h * against_each_other))) -
                             2 * e.energy +
                             total_energy(system, moved(e.state, VecX(-h * against_each_other)));
    EXPECT_EQ(e.negative_pivots, curvature < 0 ? 1 : 0);
}

/// Axle fixed at (40, ±320), radius 45, centre 20 from the axle at 200° − α, moment 4200 + 2600 α.
struct Fixed {
    double turn, pull, F, T, energy;  // degrees; change of energy of both
};
const std::vector<Fixed> fixed_axle{{
    {0, 0, 0, 160.26773819, 0},
    {10, 52.7891547761, 61.5531804261, 186.146127102, 1545.27710082},
    {20, 75.0527150993, 91.3551704228, 200.075726118, 3248.95525993},
    {30, 93.2133571881, 113.00119504, 205.875365393, 5111.03447733},
    {40, 109.899478672, 128.378897549, 205.399033778, 7131.51475301},
    {50, 126.157777366, 139.001592393, 200.834177004, 9310.39608699},
    {60, 142.51290338, 146.370330112, 194.158432705, 11647.6784793},
    {70, 159.23860298, 151.803090419, 186.86135024, 14143.3619298},
    {80, 176.459231142, 156.341923091, 179.932787818, 16797.4464387},
    {90, 194.198404506, 160.763577588, 173.973188744, 19609.9320058},
    {100, 212.407587349, 165.638608519, 169.323202588, 22580.8186312},
    {110, 230.985937922, 171.398756013, 166.170091124, 25710.1063149},
    {120, 249.795800947, 178.395419295, 164.623171352, 28997.7950569},
    {130, 268.675645789, 186.945634678, 164.763790602, 32443.8848572},
    {140, 287.451205458, 197.367525572, 166.67783611, 36048.3757158},
    {150, 305.945133337, 210.008575871, 170.477517327, 39811.2676327},
    {160, 323.985308948, 225.269794489, 176.317181359, 43732.5606078},
    {170, 341.411847455, 243.628027382, 184.406200038, 47812.2546413},
    {180, 358.082839454, 265.65768001, 195.020610856, 52050.349733},
    {190, 373.878842746, 292.051872112, 208.514009811, 56446.845883},
    {200, 388.706155325, 323.641236858, 225.326870539, 61001.7430913},
    {210, 402.498913839, 361.405641846, 245.991594816, 65715.0413579},
    {220, 415.220081375, 406.4692348, 271.127662386, 70586.7406828},
}};
constexpr double fixed_midpoint = 66.20614758;

std::vector<Fixed> fixed_axles_pulled(double share) {
    const ScalarId upper(0), lower(1), midpoint(2);
    State state;
    state.scalars = {0, 0, fixed_midpoint};
    const Frame middle = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), midpoint, {}});
    const auto groove = track(45, 20, 200);
    const auto string = strung({string_end(half(40, 320, true).then(hinge(upper)), groove),
                                {middle, {}},
                                string_end(half(40, 320, false).then(hinge(lower)), groove)},
                               fixed_axle[0].T, share, state);
    const auto spring = [](ScalarId turn) {
        return std::make_shared<Spring>(std::vector{std::pair{turn, 1.}},
                                        Spring::Data{.stiffness = 2600, .load = -4200});
    };
    const System system({.scalars = 3}, {spring(upper), spring(lower), string});
    std::vector<double> wanted;
    for (const Fixed& row : fixed_axle) wanted.push_back(fixed_midpoint + row.pull);
    Workspace workspace(system);
    const std::vector<int> held{system.numbering().first(midpoint)};
    std::vector<Fixed> rows;
    double energy = 0;
    VecX against = VecX::Zero(system.numbering().size());
    against[0] = 1;
    against[1] = -1;
    for (const PathState& s : all_states(trace(system, state, midpoint, wanted, held, workspace))) {
        const Equilibrium& e = s.equilibrium;
        if (rows.empty()) energy = e.energy;
        EXPECT_NEAR(e.state.at(upper), e.state.at(lower), 1e-6);
        expect_pivots_tell_the_curvature(system, e, against);
        rows.push_back({e.state.at(upper) / degree, s.parameter - fixed_midpoint, s.force,
                        string->tension(e.state), e.energy - energy});
    }
    return rows;
}

TEST(EccentricPulleysOnFixedAxles, PullAsTheBalanceOfTheirMoments) {
    const std::vector<Fixed> coarse = fixed_axles_pulled(stretch), fine = fixed_axles_pulled(stretch / 2);
    for (std::size_t i = 0; i < fixed_axle.size(); ++i) {
        const Fixed &a = coarse[i], &b = fine[i], &row = fixed_axle[i];
        EXPECT_NEAR(extrapolated(a.F, b.F, 1), row.F, accuracy * 300) << row.turn;
        EXPECT_NEAR(extrapolated(a.T, b.T, 1), row.T, accuracy * 300) << row.turn;
        EXPECT_NEAR(extrapolated(a.turn, b.turn, 1), row.turn, accuracy / degree) << row.turn;
        EXPECT_NEAR(extrapolated(a.energy, b.energy, 1), row.energy, accuracy * 60000) << row.turn;
    }
}

/// Lever about (0, ±230), 340 long, at q from ±y, spring moment 1.9e5 (q + 4°); axle at its tip; string track
/// of radius 46, centre 21 off at 250° − α; cable track of radius 27, centre 9 off at 300° − α, wound on the
/// −x side; cable to the other lever's axle. α is the pulley's turn in space.
struct Lever {
    double turn, pull, F, T_string, T_cable, lever, energy;  // degrees; change of energy of both
};
const std::vector<Lever> sprung_lever{{
    {0, 0, 0, 149.787728212, 256.462448252, 32, 0},
    {10, 92.7050729211, 60.937746521, 167.723902663, 225.096620449, 32.6433998546, 2705.11327981},
    {20, 130.505563152, 92.0961365526, 183.99969792, 207.278502241, 33.3158643744, 5583.64018687},
    {30, 159.606710016, 118.374904015, 197.809148933, 193.245920679, 34.0176958384, 8643.69821993},
    {40, 184.630781575, 140.662049831, 208.099037104, 182.97978551, 34.7478773269, 11887.883516},
    {50, 207.47393889, 158.713354323, 214.252183802, 176.66997267, 35.5041809934, 15313.1969028},
    {60, 229.167346089, 172.341534947, 216.198393313, 174.216972752, 36.2833146437, 18911.1469673},
    {70, 250.351026423, 181.691102381, 214.343433575, 175.19077745, 37.0810968251, 22668.0255163},
    {80, 271.44605168, 187.220925951, 209.393723096, 178.942784302, 37.8926499523, 26565.3448623},
    {90, 292.73067698, 189.578387821, 202.165988536, 184.750797526, 38.7126014098, 30580.4211222},
    {100, 314.37902523, 189.464630359, 193.442173533, 191.933582363, 39.5352837689, 34687.083275},
    {110, 336.483388379, 187.537158579, 183.887917388, 199.915097411, 40.3549269188, 38856.4841706},
    {120, 359.068958346, 184.358506882, 174.024502002, 208.245269123, 41.1658367244, 43057.9870582},
    {130, 382.105048999, 180.381092182, 164.234538846, 216.593317675, 41.9625565515, 47260.0995494},
    {140, 405.514765435, 175.954066876, 154.783816135, 224.728198867, 42.7400094977, 51431.426252},
    {150, 429.184042461, 171.340566299, 145.847751313, 232.495760001, 43.4936203581, 55541.6115835},
    {160, 452.970429572, 166.737994137, 137.536408197, 239.797587459, 44.2194172254, 59562.2454352},
    {170, 476.711705779, 162.297556887, 129.915720717, 246.573430768, 44.914113194, 63467.7062855},
    {180, 500.234253807, 158.141598126, 123.024582215, 252.787403592, 45.5751689539, 67235.9189241},
    {190, 523.361051791, 154.378588619, 116.888370815, 258.417416851, 46.2008371672, 70849.0069582},
    {200, 545.919117998, 151.116248034, 111.529778421, 263.447075637, 46.7901894683, 74293.8235702},
    {210, 567.746249601, 148.473490616, 106.977808372, 267.85929908, 47.3431267706, 77562.3474255},
}};
constexpr double lever_midpoint = 218.99012683;

std::vector<Lever> sprung_levers_pulled(double share) {
    struct Half {
        ScalarId lever, turn;
        Frame axle, pulley;
    };
    const auto make_half = [](bool up, int first) {
        const ScalarId lever(first), turn(first + 1);
        const Frame axle = half(0, 230, up).then(hinge(lever, Vec3(0, -340, 0)));
        return Half{lever, turn, axle, axle.then(hinge(turn))};
    };
    const Half upper = make_half(true, 0), lower = make_half(false, 2);
    const ScalarId midpoint(4);
    State state;
    const double brace = sprung_lever[0].lever * degree;
    state.scalars = {brace, -brace, brace, -brace, lever_midpoint};  // the joint's angle is α − q

    const Frame middle = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), midpoint, {}});
    const auto string_track = track(46, 21, 250), cable_track = track(27, 9, 300);
    const auto string =
        strung({string_end(upper.pulley, string_track), {middle, {}}, string_end(lower.pulley, string_track)},
               sprung_lever[0].T_string, share, state);
    const auto cable = [&](const Half& from, const Half& to) {
        const solver::Sheave wound{cable_track, -1, -215 * degree, -215 * degree, 0};
        return strung({{from.pulley, wound}, {to.axle, {}}}, sprung_lever[0].T_cable, share, state);
    };
    const auto spring = [](ScalarId lever) {
        return std::make_shared<Spring>(std::vector{std::pair{lever, 1.}}, Spring::Data{1.9e5, -4 * degree});
    };
    const auto down = cable(upper, lower), up = cable(lower, upper);
    // Free span 1028.53399065 and the arc r (θ + α) with exit angle θ = 181.25313097°, α = 0.
    EXPECT_NEAR(down->length(state), 1113.94751636, 1e-7);
    const System system({.scalars = 5}, {spring(upper.lever), spring(lower.lever), string, down, up});
    std::vector<double> wanted;
    for (const Lever& row : sprung_lever) wanted.push_back(lever_midpoint + row.pull);
    Workspace workspace(system);
    const std::vector<int> held{system.numbering().first(midpoint)};
    std::vector<Lever> rows;
    double energy = 0;
    for (const PathState& s : all_states(trace(system, state, midpoint, wanted, held, workspace))) {
        const State& here = s.equilibrium.state;
        if (rows.empty()) energy = s.equilibrium.energy;
        EXPECT_EQ(s.equilibrium.negative_pivots, 0);
        EXPECT_NEAR(up->tension(here), down->tension(here), accuracy * 300);
        rows.push_back({(here.at(upper.lever) + here.at(upper.turn)) / degree, s.parameter - lever_midpoint,
                        s.force, string->tension(here), down->tension(here), here.at(upper.lever) / degree,
                        s.equilibrium.energy - energy});
    }
    return rows;
}

TEST(EccentricPulleysOnSprungLevers, PullAsComputedPastThePeakOfTheForce) {
    const std::vector<Lever> coarse = sprung_levers_pulled(stretch), fine = sprung_levers_pulled(stretch / 2);
    for (std::size_t i = 0; i < sprung_lever.size(); ++i) {
        const Lever &a = coarse[i], &b = fine[i], &row = sprung_lever[i];
        EXPECT_NEAR(extrapolated(a.F, b.F, 1), row.F, accuracy * 300) << row.turn;
        EXPECT_NEAR(extrapolated(a.T_string, b.T_string, 1), row.T_string, accuracy * 300) << row.turn;
        EXPECT_NEAR(extrapolated(a.T_cable, b.T_cable, 1), row.T_cable, accuracy * 300) << row.turn;
        EXPECT_NEAR(extrapolated(a.turn, b.turn, 1), row.turn, accuracy / degree) << row.turn;
        EXPECT_NEAR(extrapolated(a.lever, b.lever, 1), row.lever, accuracy / degree) << row.turn;
        EXPECT_NEAR(extrapolated(a.energy, b.energy, 1), row.energy, accuracy * 70000) << row.turn;
    }
}

}  // namespace
}  // namespace limbwright::testing::eccentric_pulleys_test
