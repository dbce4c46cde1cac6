#include "solver/system/continuation.hpp"

#include "solver/elements/cable.hpp"
#include "tests/support/cantilever.hpp"
#include "tests/support/element_check.hpp"

namespace limbwright::solver::continuation_test {
namespace {

using testing::all_states;

using Weights = std::vector<std::pair<ScalarId, double>>;

const ScalarId moving(0);

/// A moving scalar draws another through a spring of 10; a second spring of 10 holds that one; a stop of 1000
/// above 1 if asked for.
System two_springs(bool stop) {
    System::Elements elements{
        std::make_shared<Spring>(Weights{{ScalarId(0), 1.}, {ScalarId(1), -1.}},
                                 Spring::Data{.stiffness = 10}),
        std::make_shared<Spring>(Weights{{ScalarId(1), 1.}}, Spring::Data{.stiffness = 10})};
    if (stop)
        elements.push_back(std::make_shared<Spring>(
            Weights{{ScalarId(1), 1.}}, Spring::Data{.stiffness = 1000, .rest = 1, .side = Side::above}));
    return System({.scalars = 2}, std::move(elements));
}

State at_zero(int scalars) {
    State state;
    state.scalars.assign(static_cast<std::size_t>(scalars), 0.);
    return state;
}

Path follow(const System& system, const State& start, const std::vector<double>& wanted,
            const PathOptions& options = {}) {
    Workspace workspace(system);
    const std::vector<int> held{system.numbering().first(moving)};
    return trace(system, start, moving, wanted, held, workspace, options);
}

/// A straight cantilever along X, 100 mm long, drawn sideways at its tip by a cable to a slide that moves
/// along Y.
struct DrawnCantilever {
    DrawnCantilever()
        : cantilever(testing::make_cantilever(8, testing::straight(100), [](double) {
              return diagonal_section(1e6, 1e6, 1e6, 1e8, 1e8, 1e6);
          })) {
        cantilever.rest.scalars = {0};
        const Frame slide =
            Frame::on_ground({{}, Vec3(80, 60, 0)}).then(Joint{JointKind::slide, Vec3::UnitY(), moving, {}});
        System::Elements elements = cantilever.elements;
        elements.push_back(
            std::make_shared<Cable>(std::vector<Contact>{{Frame::on(cantilever.tip), {}}, {slide, {}}},
                                    Cable::Data{.stiffness = 1e5, .natural_length = std::hypot(20, 60)}));
        system.emplace(testing::numbering_of(cantilever.rest), std::move(elements));
    }
    testing::Cantilever cantilever;
    std::optional<System> system;
};

/// Two hinged bars meet at an apex that slides along Z: the shallow truss of von Mises. Scalar 0 is the
/// apex's height above its rest.
///
/// Drawn through a spring, the apex is scalar 5 and the spring's far end the moving one.
struct Truss {
    static constexpr double half_span = 100, rise = 20, EA = 1e4;

    explicit Truss(std::optional<double> spring = {}) {
        const ScalarId height = spring ? ScalarId(5) : moving;
        const double slope = std::atan2(rise, half_span);
        const auto section = [](double) { return diagonal_section(EA, 1e6, 1e6, 1e8, 1e8, 1e8); };
        System::Elements elements;
        for (const int side : {-1, 1}) {
            const int first = side < 0 ? 1 : 3;
            const Pose along{exp<double>(side * slope * Vec3::UnitY()), Vec3::Zero()};
            const Frame foot = Frame::on_ground({{}, Vec3(side * half_span, 0, 0)})
                                   .then(Joint{JointKind::hinge, Vec3::UnitY(), ScalarId(first), along});
            const Frame apex = Frame::on_ground({{}, Vec3(0, 0, rise)})
                                   .then(Joint{JointKind::slide, Vec3::UnitZ(), height, {}})
                                   .then(Joint{JointKind::hinge, Vec3::UnitY(), ScalarId(first + 1), along});
            const Frame &from = side < 0 ? foot : apex, &to = side < 0 ? apex : foot;
            const State rest = at_zero(6);
            elements.push_back(
                std::make_shared<Beam>(from, to, beam_data(pose(from, rest), pose(to, rest), section)));
        }
        if (spring)
            elements.push_back(std::make_shared<Spring>(Weights{{moving, 1.}, {height, -1.}},
                                                        Spring::Data{.stiffness = *spring}));
        system.emplace(Numbering{.scalars = spring ? 6 : 5}, std::move(elements));
    }

    /// Force along +Z on the apex that holds it, 2 EA (ℓ/ℓ₀ − 1) z/ℓ.
    static double force(double height) {
        const double z = rise + height, l = std::hypot(half_span, z), l0 = std::hypot(half_span, rise);
        return 2 * EA * (l / l0 - 1) * z / l;
    }

    std::optional<System> system;
};

TEST(Path, ReachesEveryWantedValue) {
    const auto states = all_states(follow(two_springs(false), at_zero(2), {0, 1, -2, 5}));
    ASSERT_EQ(states.size(), 4u);
    for (const auto& [i, wanted] :
         {std::pair{0u, 0.}, std::pair{1u, 1.}, std::pair{2u, -2.}, std::pair{3u, 5.}}) {
        EXPECT_EQ(states[i].parameter, wanted);
        EXPECT_EQ(states[i].equilibrium.state.at(moving), wanted);
        EXPECT_NEAR(states[i].equilibrium.state.scalars[1], wanted / 2, 1e-14);  // a few roundings
    }
}

TEST(Path, GivesForceAndStiffnessOfTwoSpringsInARow) {
    for (const PathState& s : all_states(follow(two_springs(false), at_zero(2), {1, 3}))) {
        EXPECT_NEAR(s.force, 5 * s.parameter, 1e-13);  // a few roundings
        EXPECT_NEAR(s.stiffness, 5, 1e-13);
    }
}

TEST(Path, MeetsAStopWithinAStep) {
    // 10 (10 − q) = 10 q + 1000 (q − 1), so q = 1100/1020; the stiffness is 10 · 1010/1020.
    const PathState s = all_states(follow(two_springs(true), at_zero(2), {0, 10})).back();
    EXPECT_NEAR(s.equilibrium.state.scalars[1], 1100. / 1020,
                1e-12);  // roundings over a stiffness ratio of a hundred
    EXPECT_NEAR(s.stiffness, 10 * 1010. / 1020, 1e-12);
}

TEST(Path, LeavesAStopAgain) {
    const PathState s = all_states(follow(two_springs(true), at_zero(2), {10, 0.5})).back();
    EXPECT_NEAR(s.equilibrium.state.scalars[1], 0.25, 1e-14);  // a rounding
}

TEST(Path, PassesASnapThroughWithFallingForce) {
    std::vector<double> wanted;
    for (int i = 0; i <= 24; ++i) wanted.push_back(-2. * i);
    bool falls = false;
    for (const PathState& s : all_states(follow(*Truss().system, at_zero(5), wanted))) {
        EXPECT_NEAR(s.force, Truss::force(s.parameter), 1e-9);  // forces of 10 N, bars of 1e4 N rounded
        EXPECT_EQ(s.equilibrium.negative_pivots, 0);
        falls |= s.stiffness < 0;
    }
    EXPECT_TRUE(falls);
}

TEST(Path, ForceIsTheSlopeOfTheEnergyAlongIt) {
    const DrawnCantilever scene;
    const double h = 1e-2;
    const auto s = all_states(follow(*scene.system, scene.cantilever.rest, {20, 40 - h, 40, 40 + h}));
    const double slope = (s[3].equilibrium.energy - s[1].equilibrium.energy) / (2 * h);
    EXPECT_NEAR(s[2].force, slope, 1e-7 * slope);  // h² from truncation: 2e-8
}

TEST(Path, StiffnessIsTheSlopeOfTheForceAlongIt) {
    const DrawnCantilever scene;
    const double h = 1e-2;
    const auto s = all_states(follow(*scene.system, scene.cantilever.rest, {20, 40 - h, 40, 40 + h}));
    const double slope = (s[3].force - s[1].force) / (2 * h);
    EXPECT_NEAR(s[2].stiffness, slope, 1e-7 * slope);  // h² from truncation: 3e-8
}

TEST(Path, DoesNotDependOnItsSteps) {
    const DrawnCantilever scene;
    const PathState coarse = all_states(follow(*scene.system, scene.cantilever.rest, {60})).back();
    const PathState fine =
        all_states(follow(*scene.system, scene.cantilever.rest, {10, 20, 30, 40, 50, 60})).back();
    EXPECT_NEAR(coarse.force, fine.force, 1e-9 * fine.force);  // Newton's residual
}

TEST(Path, HalvesAStepThatIsTooLong) {
    const DrawnCantilever scene;
    const PathState hurried =
        all_states(follow(*scene.system, scene.cantilever.rest, {0, 60}, {.newton = {.max_iterations = 4}}))
            .back();
    const PathState patient = all_states(follow(*scene.system, scene.cantilever.rest, {0, 60})).back();
    EXPECT_GT(hurried.attempts, 2);
    EXPECT_EQ(hurried.parameter, 60);
    EXPECT_NEAR(hurried.force, patient.force, 1e-9 * patient.force);  // Newton's residual
}

TEST(Path, NeedsFewIterationsWhereItCanPredict) {
    const DrawnCantilever scene;
    const auto states = all_states(follow(*scene.system, scene.cantilever.rest, {20, 20.5, 21, 21.5, 22}));
    EXPECT_GE(states[0].equilibrium.iterations, 4);  // from rest, without a slope
    for (std::size_t i = 2; i < states.size(); ++i) EXPECT_LE(states[i].equilibrium.iterations, 1);
}

/// A spring of 2 N/mm, softer than the falling force of the truss. Its far end stands at h + F(h)/2 where the
/// apex stands at h, and this has a largest depth: there the path ends, and the apex would snap through.
struct Snap {
    static constexpr double spring = 2;
    static double depth() {
        double deepest = 0;
        for (double h = 0; h > -Truss::rise; h -= 1e-3)
            deepest = std::min(deepest, h + Truss::force(h) / spring);
        return deepest;
    }
    Truss truss{spring};
};

TEST(Path, EndsWhereItTurnsBackAndSaysWhere) {
    const Snap snap;
    for (const std::vector<double>& wanted : {std::vector<double>{0, -40}, {0, -5, -10, -40}}) {
        const Path path = follow(*snap.truss.system, at_zero(6), wanted);
        ASSERT_TRUE(path.failure.has_value());
        EXPECT_NEAR(path.failure->reached, Snap::depth(), 40 * 1e-4);  // the smallest step
        EXPECT_NE(path.failure->cause.reason.find("turns back"), std::string::npos)
            << path.failure->cause.reason;
        EXPECT_GT(path.failure->state.scalars[5], -Truss::rise);  // not snapped through
    }
}

TEST(Path, NeverStepsToAnotherBranch) {
    const Snap snap;  // past the snap there is a stable state, and no other one
    const Path path = follow(*snap.truss.system, at_zero(6), {0, -60});
    EXPECT_EQ(path.states.size(), 1u);
    EXPECT_TRUE(path.failure.has_value());
}

TEST(Path, TakesNoMoreStepsThanItMay) {
    const DrawnCantilever scene;
    const Path path = follow(*scene.system, scene.cantilever.rest, {0, 60},
                             {.newton = {.max_iterations = 2}, .smallest_step = 0, .most_steps_between = 5});
    ASSERT_TRUE(path.failure.has_value());
    EXPECT_EQ(path.states.size(), 1u);
    const PathState whole =
        all_states(follow(*scene.system, scene.cantilever.rest, {0, 60}, {.newton = {.max_iterations = 2}}))
            .back();
    EXPECT_GT(whole.attempts, 6);  // with more it comes through
}

TEST(Path, EndsWhereNoEquilibriumIsLeftAndSaysWhere) {
    // A cable from a wheel of radius 9.7 to a slide that moves toward its centre.
    const Frame slide = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), moving, {}});
    Contact wheel{Frame::on_ground(), solver::Sheave{}};
    wheel.sheave->groove = std::make_shared<const Groove>(Groove::circle(Vec2::Zero(), 9.7));
    const System system({.scalars = 1}, {std::make_shared<Cable>(std::vector<Contact>{wheel, {slide, {}}},
                                                                 Cable::Data{.dead_tension = 5})});
    State start = at_zero(1);
    start.at(moving) = 20;
    const Path path = follow(system, start, {20, 15, 5});
    ASSERT_EQ(path.states.size(), 2u);
    ASSERT_TRUE(path.failure.has_value());
    EXPECT_GE(path.failure->reached, 9.7);
    EXPECT_LT(path.failure->reached, 9.71);
    EXPECT_LT(path.failure->tried, 9.7);
    EXPECT_FALSE(path.failure->cause.reason.empty());
}

}  // namespace
}  // namespace limbwright::solver::continuation_test
