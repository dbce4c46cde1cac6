#include <gtest/gtest.h>

#include <array>

#include "solver/elements/cable.hpp"
#include "solver/elements/spring.hpp"
#include "tests/support/found.hpp"

/// Two rigid arms that turn against springs about (0, ±c), mirror images of each other, their tips joined by
/// a string whose midpoint is pulled along +x. Closed form: c + l cos θ = S cos b, x = l sin θ + S sin b, F =
/// 2 k (θ − θ_f) sin b/(l sin(θ + b)), θ from ±y toward +x, S half the string's length.
namespace limbwright::testing::arms_and_string_test {
namespace {

using namespace limbwright::solver;

struct Row {
    double pull, arm_angle, F, T, energy;  // arm's angle in degrees; energy of both springs
};
struct Arms {
    double length, offset, half_string, spring, free_angle, brace_midpoint;
    std::vector<Row> rows;
};

const Arms set_A{1,
                 0,
                 0.9,
                 1,
                 0,
                 0.435889894354,
                 {
                     {0, 25.8419327632, 0, 1.03472647024, 0.203425184959},
                     {0.1, 26.4374259864, 0.174375684438, 0.865438357305, 0.212908535644},
                     {0.2, 27.8618901131, 0.291588050641, 0.778499963349, 0.236469909555},
                     {0.3, 29.8043833373, 0.389148858812, 0.733168591979, 0.270592039678},
                     {0.4, 32.1133725643, 0.481786610942, 0.712482826444, 0.314142409726},
                     {0.5, 34.7120637108, 0.577135924372, 0.708746571952, 0.367041865584},
                     {0.6, 37.5644555495, 0.68065968704, 0.718608004447, 0.429842083352},
                     {0.7, 40.6608192432, 0.797754611569, 0.741239114655, 0.50362465685},
                     {0.8, 44.0122886129, 0.935226263504, 0.777803561679, 0.590068783355},
                     {0.9, 47.6512837181, 1.10314928665, 0.831754596929, 0.691677972408},
                 }};
const Arms set_B{1,
                 0.4,
                 1.3,
                 1,
                 0,
                 0.435889894354,
                 {
                     {0, 25.8419327632, 0, 1.03472647024, 0.203425184959},
                     {0.1, 26.2778864832, 0.129953436835, 0.90667064675, 0.210346649908},
                     {0.2, 27.3745704068, 0.224761728284, 0.829689025357, 0.228270273984},
                     {0.3, 28.9212172863, 0.304087433013, 0.783471567694, 0.254793222671},
                     {0.4, 30.7955582457, 0.377318284557, 0.757167558066, 0.288888928116},
                     {0.5, 32.9252149445, 0.449583686793, 0.744825742966, 0.33022653899},
                     {0.6, 35.267649468, 0.52421792488, 0.743177154464, 0.378885309208},
                     {0.7, 37.7994987193, 0.603887674387, 0.750544318521, 0.435238010133},
                     {0.8, 40.5108916915, 0.69121061011, 0.766312399283, 0.499917500658},
                     {0.9, 43.4026457567, 0.789213113583, 0.790710801194, 0.573835145248},
                 }};
/// In millimetres and newtons.
const Arms set_C{400,
                 280,
                 610,
                 9e4,
                 -0.25,
                 226.053091109,
                 {
                     {0, 34.4115086698, 0, 338.652619357, 65115.9331793},
                     {40, 34.7147070007, 38.9646711165, 310.642840235, 65928.666194},
                     {80, 35.5260240849, 70.0014083101, 289.992706947, 68128.2179517},
                     {120, 36.7325998557, 96.3007322972, 274.963113255, 71466.1004645},
                     {160, 38.2568348493, 119.923618452, 264.324479699, 75796.8729126},
                     {200, 40.0460941537, 142.274826542, 257.237569712, 81043.1912896},
                     {240, 42.0657108616, 164.393651801, 253.155793237, 87175.838045},
                     {280, 44.2944439673, 187.138962097, 251.75859201, 94203.0576903},
                     {320, 46.7217050263, 211.319925282, 252.913809371, 102166.070047},
                     {360, 49.3461156771, 237.807659927, 256.666765544, 111139.329007},
                     {400, 52.1751960691, 267.65777516, 263.258128264, 121235.3623},
                     {440, 55.2262291701, 302.28065294, 273.181100985, 132615.316744},
                 }};

const ScalarId upper(0), lower(1), midpoint(2);

/// Rooted at (0, ±c), turning from ±y toward +x: the upper one's own axes are turned over, so that both look
/// alike.
Frame arm(const Arms& a, bool up) {
    const Pose root{up ? exp<double>(Vec3(std::numbers::pi, 0, 0)) : Rotation{},
                    Vec3(0, up ? a.offset : -a.offset, 0)};
    return Frame::on_ground(root).then(
        Joint{JointKind::hinge, Vec3::UnitZ(), up ? upper : lower, Pose{{}, Vec3(0, -a.length, 0)}});
}

void expect_met_along_the_pull(const Arms& a) {
    const Frame middle = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), midpoint, {}});
    // The string stretches by T/EA: 1e-6 of its length at the strung state's tension.
    const double T0 = a.rows[0].T, EA = 1e6 * T0;
    const auto string =
        std::make_shared<Cable>(std::vector<Contact>{{arm(a, true), {}}, {middle, {}}, {arm(a, false), {}}},
                                Cable::Data{EA, 2 * a.half_string / (1 + T0 / EA)});
    const auto spring = [&](ScalarId angle) {
        return std::make_shared<Spring>(std::vector{std::pair{angle, 1.}},
                                        Spring::Data{a.spring, a.free_angle});
    };
    const System system({.scalars = 3}, {spring(upper), spring(lower), string});
    Workspace workspace(system);
    State strung;
    strung.scalars = {a.rows[0].arm_angle * std::numbers::pi / 180,
                      a.rows[0].arm_angle * std::numbers::pi / 180, a.brace_midpoint};
    std::vector<double> wanted;
    for (const Row& row : a.rows) wanted.push_back(a.brace_midpoint + row.pull);
    const std::vector<int> held{system.numbering().first(midpoint)};
    const std::vector<PathState> states =
        all_states(trace(system, strung, midpoint, wanted, held, workspace));

    constexpr double accuracy = 1e-5;  // the string's stretch, some times over
    const double F0 = a.rows.back().F, U0 = a.rows.back().energy;
    for (std::size_t i = 0; i < states.size(); ++i) {
        const State& state = states[i].equilibrium.state;
        EXPECT_NEAR(states[i].force, a.rows[i].F, accuracy * F0) << a.rows[i].pull;
        EXPECT_NEAR(string->tension(state), a.rows[i].T, accuracy * T0) << a.rows[i].pull;
        EXPECT_NEAR(state.at(upper), a.rows[i].arm_angle * std::numbers::pi / 180, accuracy)
            << a.rows[i].pull;
        EXPECT_NEAR(state.at(lower), state.at(upper), accuracy) << a.rows[i].pull;
        EXPECT_NEAR(states[i].equilibrium.energy, a.rows[i].energy, accuracy * U0) << a.rows[i].pull;
        EXPECT_EQ(states[i].equilibrium.negative_pivots, 0) << a.rows[i].pull;
    }
}

TEST(ArmsAndString, RootedTogetherPullAsTheClosedForm) {
    expect_met_along_the_pull(set_A);
}

TEST(ArmsAndString, RootedApartPullAsTheClosedForm) {
    expect_met_along_the_pull(set_B);
}

TEST(ArmsAndString, OfABowsSizePullAsTheClosedFormWhileTheTensionFallsAndRisesAgain) {
    expect_met_along_the_pull(set_C);
}

}  // namespace
}  // namespace limbwright::testing::arms_and_string_test
