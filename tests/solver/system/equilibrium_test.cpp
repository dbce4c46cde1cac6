#include "solver/system/equilibrium.hpp"

#include <cmath>
#include <numbers>

#include "solver/elements/cable.hpp"
#include "tests/support/cantilever.hpp"
#include "tests/support/element_check.hpp"

namespace limbwright::solver::equilibrium_test {
namespace {

using testing::found;

constexpr double length = 100, bending = 1e6;

/// A straight cantilever along X that bends about Z alone, under a force at its tip.
struct Loaded {
    explicit Loaded(const Vec3& force)
        : cantilever(testing::make_cantilever(
              8, testing::straight(length),
              [](double) { return diagonal_section(1e6, 1e6, 1e6, 1e8, 1e8, bending); })),
          system(testing::numbering_of(cantilever.rest), with_force(cantilever, force)) {}

    static System::Elements with_force(const testing::Cantilever& cantilever, const Vec3& force) {
        System::Elements elements = cantilever.elements;
        elements.push_back(std::make_shared<DeadForce>(Frame::on(cantilever.tip), force));
        return elements;
    }

    testing::Cantilever cantilever;
    System system;
};

using Weights = std::vector<std::pair<ScalarId, double>>;

std::shared_ptr<const Element> spring(int scalar, const Spring::Data& data) {
    return std::make_shared<Spring>(Weights{{ScalarId(scalar), 1.}}, data);
}

State scalars(std::vector<double> values) {
    State state;
    state.scalars = std::move(values);
    return state;
}

/// A slide along X that a cable of EA/L₀ = 10 N/mm holds to an anchor 100 mm away; it is 105 mm long.
std::shared_ptr<const Element> tether() {
    const Frame slide = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), ScalarId(0), {}});
    return std::make_shared<Cable>(
        std::vector<Contact>{{Frame::on_ground({{}, Vec3(-100, 0, 0)}), {}}, {slide, {}}},
        Cable::Data{.stiffness = 1050, .natural_length = 105});
}

FoundEquilibrium solve(const System& system, const State& start, const std::vector<int>& held = {},
                       const NewtonOptions& options = {}) {
    Workspace workspace(system);
    return find_equilibrium(system, start, held, workspace, options);
}

TEST(Equilibrium, OfASpringUnderALoadTakesOneStep) {
    const Equilibrium e =
        found(solve(System({.scalars = 1}, {spring(0, {.stiffness = 16, .load = 6})}), scalars({0})));
    EXPECT_DOUBLE_EQ(e.state.scalars[0], 0.375);
    EXPECT_DOUBLE_EQ(e.energy, -1.125);
    EXPECT_EQ(e.iterations, 1);
}

TEST(Equilibrium, ConvergesQuadraticallyOnABentCantilever) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    const Equilibrium e = found(solve(scene.system, scene.cantilever.rest));
    const auto error_after = [&](int iterations) {
        const auto stopped = solve(scene.system, scene.cantilever.rest, {}, {.max_iterations = iterations});
        const NodeId tip = scene.cantilever.tip;
        return (std::get<NotConverged>(stopped).best.at(tip).position - e.state.at(tip).position).norm();
    };
    const double third_last = error_after(e.iterations - 3), second_last = error_after(e.iterations - 2),
                 last = error_after(e.iterations - 1);
    // A sequence of first order would give 1, of second order 2. The last error may end in roundings, which
    // make it larger, never smaller.
    EXPECT_LT(last, second_last);
    const double order = std::log(last / second_last) / std::log(second_last / third_last);
    EXPECT_GT(order, 1.5);
}

TEST(Equilibrium, BalancesEveryFreeFreedom) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    const Equilibrium e = found(solve(scene.system, scene.cantilever.rest));
    EXPECT_LT(e.residual, 1e-10);  // EA of 1e6 N times roundings of strain, over forces of 100 N
    EXPECT_LT(total_gradient(scene.system, e.state).norm(), 1e-7);  // the same in N and N mm
}

TEST(Equilibrium, LeavesHeldFreedomsWhereTheyStart) {
    const auto on_sum = std::make_shared<Spring>(Weights{{ScalarId(0), 1.}, {ScalarId(1), 1.}},
                                                 Spring::Data{.stiffness = 2, .rest = 1});
    const std::vector<int> held{1};
    const Equilibrium e = found(solve(System({.scalars = 2}, {on_sum}), scalars({0, 0.3}), held));
    EXPECT_EQ(e.state.scalars[1], 0.3);
    EXPECT_DOUBLE_EQ(e.state.scalars[0], 0.7);
}

const double euler_load = std::numbers::pi * std::numbers::pi * bending / (4 * length * length);

TEST(Equilibrium, IsStableBelowEulersLoad) {
    // Eight elements, shear and compression move the buckling load by less than one part in a hundred.
    const Loaded column(Vec3(-0.97 * euler_load, 0, 0));
    EXPECT_EQ(found(solve(column.system, column.cantilever.rest)).negative_pivots, 0);
}

TEST(Equilibrium, HasOneNegativePivotAboveEulersLoad) {
    const Loaded column(Vec3(-1.03 * euler_load, 0, 0));
    const Equilibrium e = found(solve(column.system, column.cantilever.rest));
    EXPECT_EQ(e.negative_pivots, 1);
    EXPECT_NEAR(e.state.at(column.cantilever.tip).position.y(), 0, 1e-9);  // still straight, to rounding
}

TEST(Equilibrium, IsStableAboveEulersLoadOnceItHasGivenWay) {
    const Loaded bent(Vec3(0, bending / (length * length), 0)), column(Vec3(-1.2 * euler_load, 0, 0));
    const Equilibrium e = found(solve(column.system, found(solve(bent.system, bent.cantilever.rest)).state));
    EXPECT_EQ(e.negative_pivots, 0);
    EXPECT_GT(e.state.at(column.cantilever.tip).position.y(), 0.5 * length);
}

TEST(Equilibrium, SharesALoadBetweenASpringAndACableThatTightensOnTheWay) {
    // 10 q + 10 (100 + q − 105) = 100, so q = 7.5.
    const System system({.scalars = 1}, {spring(0, {.stiffness = 10, .load = 100}), tether()});
    EXPECT_NEAR(found(solve(system, scalars({0}))).state.scalars[0], 7.5, 1e-12);  // rounding of 100 mm
}

TEST(Equilibrium, LetsACableGoSlackOnTheWay) {
    const System system({.scalars = 1}, {spring(0, {.stiffness = 10, .load = 20}), tether()});
    const Equilibrium e = found(solve(system, scalars({30})));
    EXPECT_DOUBLE_EQ(e.state.scalars[0], 2);
}

TEST(Equilibrium, TightensASlackCableThatAloneHoldsALoad) {
    // Slack up to q = 5, then 10 N/mm: 15 under 100 N.
    const System system({.scalars = 1}, {spring(0, {.load = 100}), tether()});
    EXPECT_NEAR(found(solve(system, scalars({0}))).state.scalars[0], 15, 1e-12);  // rounding of 100 mm
}

TEST(Equilibrium, TheWorkspaceHoldsTheTangentOfTheStateFound) {
    const System system({.scalars = 1}, {spring(0, {.stiffness = 10, .load = 100}), tether()});
    Workspace workspace(system);
    (void)found(find_equilibrium(system, scalars({0}), {}, workspace));
    EXPECT_DOUBLE_EQ(workspace.tangent.dense()(0, 0), 20);
    EXPECT_DOUBLE_EQ(workspace.factor.solve(VecX::Unit(6, 0))[0], 0.05);
}

TEST(Equilibrium, TheWorkspaceCountsAllItsIterations) {
    const System system({.scalars = 1}, {spring(0, {.stiffness = 16, .load = 6})});
    Workspace workspace(system);
    (void)find_equilibrium(system, scalars({0}), {}, workspace);
    (void)find_equilibrium(system, scalars({0}), {}, workspace);
    EXPECT_EQ(workspace.iterations, 4);  // one step and one look at the result, twice
}

TEST(Equilibrium, IsNotFoundWhereOnlyTheDecrementsPartsCancel) {
    // g = (1, 1) and K = diag(1, −1): g·K⁻¹g is nothing at once.
    const System system({.scalars = 2},
                        {spring(0, {.stiffness = 1, .load = -1}), spring(1, {.stiffness = -1, .load = -1})});
    const Equilibrium e = found(solve(system, scalars({0, 0})));
    EXPECT_EQ(e.state.scalars, (std::vector<double>{-1, 1}));
    EXPECT_EQ(e.residual, 0);
}

/// A slide along X, or a hinge about Z, whose scalar a spring holds against a load of so many newtons.
System one_joint(JointKind kind, double load) {
    const Frame frame = Frame::on_ground().then(Joint{kind, Vec3::UnitX(), ScalarId(0), {}});
    return {{.scalars = 1},
            {spring(0, {.stiffness = 1, .load = load}), std::make_shared<DeadForce>(frame, Vec3::Zero())}};
}

TEST(Equilibrium, TakesAStepOfASlideAsALength) {
    const NewtonOptions one{.max_iterations = 1, .max_turn = 0.5, .max_move = 60};
    const auto after_one = [&](double load) {
        return std::get<NotConverged>(solve(one_joint(JointKind::slide, load), scalars({0}), {}, one))
            .best.scalars[0];
    };
    EXPECT_EQ(after_one(50), 50);
    EXPECT_EQ(after_one(100), 60);
}

TEST(Equilibrium, TakesAStepOfAHingeAsATurn) {
    const NewtonOptions one{.max_iterations = 1, .max_turn = 0.5, .max_move = 60};
    const FoundEquilibrium answer = solve(one_joint(JointKind::hinge, 50), scalars({0}), {}, one);
    EXPECT_EQ(std::get<NotConverged>(answer).best.scalars[0], 0.5);
}

TEST(Equilibrium, SaysThatAHealthyOneIsNotDoubtful) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    EXPECT_FALSE(found(solve(scene.system, scene.cantilever.rest)).is_doubtful());
}

TEST(Equilibrium, SaysThatOneWithAPivotOfRoundingIsDoubtful) {
    const auto on_sum =
        std::make_shared<Spring>(Weights{{ScalarId(0), 1.}, {ScalarId(1), 1.}}, Spring::Data{.stiffness = 1});
    const System system({.scalars = 2}, {on_sum, spring(1, {.stiffness = 1e-14})});
    EXPECT_TRUE(found(solve(system, scalars({0, 0}))).is_doubtful());
}

TEST(NotConverged, MeasuresAForceByForcesAndAMomentByMoments) {
    // The hinge's moments of 1e6 N mm balance; nothing balances the slide's 2 N.
    const Frame slide = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), ScalarId(1), {}});
    const System system({.scalars = 2}, {spring(0, {.stiffness = 1e6}), spring(0, {.load = 1e6}),
                                         std::make_shared<DeadForce>(slide, Vec3(2, 0, 0))});
    const FoundEquilibrium answer = solve(system, scalars({1, 0}));
    EXPECT_EQ(std::get<NotConverged>(answer).worst_freedom, 1);
    EXPECT_NE(std::get<NotConverged>(answer).reason.find("residual 1.0e+00 of the largest force"),
              std::string::npos)
        << std::get<NotConverged>(answer).reason;
}

TEST(NotConverged, NamesTheFreedomThatNothingHolds) {
    const System system({.scalars = 2}, {spring(0, {.stiffness = 4, .load = 6}), spring(1, {.load = 6})});
    const FoundEquilibrium answer = solve(system, scalars({0, 0}));
    const NotConverged& failure = std::get<NotConverged>(answer);
    EXPECT_EQ(failure.worst_freedom, 1);
    EXPECT_NE(failure.reason.find("residual 1.0e+00 of the largest force"), std::string::npos)
        << failure.reason;
}

TEST(NotConverged, GivesTheBestStateWhenIterationsRunOut) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    const FoundEquilibrium answer = solve(scene.system, scene.cantilever.rest, {}, {.max_iterations = 2});
    const NotConverged& failure = std::get<NotConverged>(answer);
    EXPECT_EQ(failure.iterations, 2);
    EXPECT_LT(total_energy(scene.system, failure.best), 0);
    EXPECT_NE(failure.reason.find("too many iterations after 2 iterations"), std::string::npos)
        << failure.reason;
}

/// A cable from a wheel of radius 30 to a slide along its axis u.
std::shared_ptr<const Element> from_wheel() {
    const Frame slide = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), ScalarId(0), {}});
    Contact wheel{Frame::on_ground(), solver::Sheave{}};
    wheel.sheave->groove = std::make_shared<const Groove>(Groove::circle(Vec2::Zero(), 30));
    return std::make_shared<Cable>(std::vector<Contact>{wheel, {slide, {}}},
                                   Cable::Data{.stiffness = 1000, .natural_length = 50});
}

TEST(NotConverged, RefusesAStartWithoutEnergy) {
    const System system({.scalars = 1}, {from_wheel()});
    const FoundEquilibrium answer = solve(system, scalars({10}));  // inside the wheel
    const NotConverged& failure = std::get<NotConverged>(answer);
    EXPECT_EQ(failure.iterations, 0);
    EXPECT_EQ(failure.worst_freedom, 0);
    EXPECT_NE(failure.reason.find("the start has no finite energy"), std::string::npos) << failure.reason;
}

TEST(NotConverged, NamesAFreedomOfTheElementWithoutEnergy) {
    const System system({.scalars = 2}, {spring(1, {.stiffness = 1}), from_wheel(), spring(1, {.load = 1})});
    EXPECT_EQ(std::get<NotConverged>(solve(system, scalars({10, 0}))).worst_freedom, 0);
}

TEST(NotConverged, SaysSoWhereACablesExitsAreNotFound) {
    // Two wheels that reach through each other's planes, as in cable_path_test.
    const auto groove = std::make_shared<const Groove>(Groove::circle(Vec2(4, -3), 20));
    const Pose tilted{exp<double>(Vec3(0.16, -0.21, -0.96)), Vec3(-0.8, -35.5, -33.2)};
    const Frame slide = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), ScalarId(0), tilted});
    const auto belt =
        std::make_shared<Cable>(std::vector<Contact>{{Frame::on_ground(), solver::Sheave{groove, 1}},
                                                     {slide, solver::Sheave{groove, 1}}},
                                Cable::Data{.stiffness = 1000, .natural_length = 20});
    const FoundEquilibrium answer = solve(System({.scalars = 1}, {belt}), scalars({0}));
    EXPECT_EQ(std::get<NotConverged>(answer).reason, "the start has no finite energy");
}

TEST(NotConverged, SaysNothingOfTheSearchBeforeInTheSameWorkspace) {
    const System system({.scalars = 1}, {from_wheel()});
    Workspace workspace(system);
    (void)find_equilibrium(system, scalars({200}), {}, workspace, {.max_iterations = 1});
    const FoundEquilibrium answer = find_equilibrium(system, scalars({10}), {}, workspace);
    EXPECT_EQ(std::get<NotConverged>(answer).reason, "the start has no finite energy");
}

}  // namespace
}  // namespace limbwright::solver::equilibrium_test
