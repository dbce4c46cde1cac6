#include "solver/equilibrium.hpp"

#include <numbers>

#include "solver/cable.hpp"
#include "tests/support/cantilever.hpp"
#include "tests/support/element_check.hpp"

namespace limbwright::solver {
namespace {

using testing::found;

constexpr double length = 100, bending = 1e6;

/// A straight cantilever along X that bends about Z alone, under a force at its tip.
struct Loaded {
    explicit Loaded(const Vec3& force)
        : cantilever(testing::make_cantilever(8, testing::straight(length),
                                              [](double) { return testing::plane_section(bending, 1e8); })),
          system(testing::numbering_of(cantilever.rest), with_force(cantilever, force)) {}

    static System::Elements with_force(const testing::Cantilever& cantilever, const Vec3& force) {
        System::Elements elements = cantilever.elements;
        elements.push_back(std::make_shared<DeadForce>(Frame::on(cantilever.tip), force));
        return elements;
    }

    testing::Cantilever cantilever;
    System system;
};

std::shared_ptr<const Element> spring(int scalar, const Spring::Data& data) {
    return std::make_shared<Spring>(std::vector<std::pair<ScalarId, double>>{{ScalarId(scalar), 1.}}, data);
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
    const Equilibrium e = found(solve(System({.scalars = 1}, {spring(0, {.stiffness = 4, .load = 6})}), scalars({0})));
    EXPECT_DOUBLE_EQ(e.state.scalars[0], 1.5);
    EXPECT_DOUBLE_EQ(e.energy, -4.5);
    EXPECT_EQ(e.iterations, 1);
}

TEST(Equilibrium, ConvergesQuadraticallyOnABentCantilever) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    const Equilibrium e = found(solve(scene.system, scene.cantilever.rest));
    const auto tip = [&](const State& state) { return state.at(scene.cantilever.tip).position; };
    std::vector<double> errors;
    for (int i = 1; i < e.iterations; ++i) {
        const auto stopped = solve(scene.system, scene.cantilever.rest, {}, {.max_iterations = i});
        errors.push_back((tip(std::get<NotConverged>(stopped).best) - tip(e.state)).norm());
        RecordProperty("error", std::to_string(errors.back()));
        printf("%d %g\n", i, errors.back());
    }
    printf("iterations %d\n", e.iterations);
}

TEST(Equilibrium, BalancesEveryFreeFreedom) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    const Equilibrium e = found(solve(scene.system, scene.cantilever.rest));
    EXPECT_LT(e.residual, 1e-9);
    printf("residual %g  g %g\n", e.residual, total_gradient(scene.system, e.state).cwiseAbs().maxCoeff());
}

TEST(Equilibrium, LeavesHeldFreedomsWhereTheyStart) {
    const System system({.scalars = 2}, {std::make_shared<Spring>(
                                            std::vector<std::pair<ScalarId, double>>{{ScalarId(0), 1.}, {ScalarId(1), 1.}},
                                            Spring::Data{.stiffness = 2, .rest = 1})});
    const std::vector<int> held{1};
    const Equilibrium e = found(solve(system, scalars({0, 0.3}), held));
    EXPECT_EQ(e.state.scalars[1], 0.3);
    EXPECT_DOUBLE_EQ(e.state.scalars[0], 0.7);
}

TEST(Equilibrium, IsStableBelowEulersLoad) {
    const double euler = std::numbers::pi * std::numbers::pi * bending / (4 * length * length);
    const Loaded scene(Vec3(-0.97 * euler, 0, 0));
    EXPECT_EQ(found(solve(scene.system, scene.cantilever.rest)).negative_pivots, 0);
}

TEST(Equilibrium, HasOneNegativePivotAboveEulersLoad) {
    const double euler = std::numbers::pi * std::numbers::pi * bending / (4 * length * length);
    const Loaded scene(Vec3(-1.03 * euler, 0, 0));
    const Equilibrium e = found(solve(scene.system, scene.cantilever.rest));
    EXPECT_EQ(e.negative_pivots, 1);
    EXPECT_NEAR(e.state.at(scene.cantilever.tip).position.y(), 0, 1e-9);  // still straight, to rounding
    printf("%d its\n", e.iterations);
}

TEST(Equilibrium, LeavesAnUnstableStateOnceItIsDisturbed) {
    const double euler = std::numbers::pi * std::numbers::pi * bending / (4 * length * length);
    const Loaded scene(Vec3(-1.2 * euler, 1e-3 * euler, 0));
    const Equilibrium e = found(solve(scene.system, scene.cantilever.rest));
    printf("%d its %d y %g\n", e.iterations, e.negative_pivots, e.state.at(scene.cantilever.tip).position.y());
    EXPECT_EQ(e.negative_pivots, 0);
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

TEST(Equilibrium, TheWorkspaceHoldsTheTangentOfTheStateFound) {
    const System system({.scalars = 1}, {spring(0, {.stiffness = 10, .load = 100}), tether()});
    Workspace workspace(system);
    (void)found(find_equilibrium(system, scalars({0}), {}, workspace));
    EXPECT_DOUBLE_EQ(workspace.tangent.dense()(0, 0), 20);
    EXPECT_DOUBLE_EQ(workspace.factor.solve(VecX::Unit(6, 0))[0], 0.05);
}

TEST(Equilibrium, TheWorkspaceCountsAllItsIterations) {
    const System system({.scalars = 1}, {spring(0, {.stiffness = 4, .load = 6})});
    Workspace workspace(system);
    (void)find_equilibrium(system, scalars({0}), {}, workspace);
    (void)find_equilibrium(system, scalars({0}), {}, workspace);
    EXPECT_EQ(workspace.iterations, 4);  // one step and one look at the result, twice
}

TEST(NotConverged, NamesTheFreedomThatNothingHolds) {
    const System system({.scalars = 2}, {spring(0, {.stiffness = 4, .load = 6}), spring(1, {.load = 6})});
    const FoundEquilibrium answer = solve(system, scalars({0, 0}));
    const NotConverged& failure = std::get<NotConverged>(answer);
    EXPECT_EQ(failure.worst_freedom, 1);
    EXPECT_NE(failure.reason.find("a pivot of the tangent is zero after 0 iterations"), std::string::npos)
        << failure.reason;
}

TEST(NotConverged, GivesTheBestStateWhenIterationsRunOut) {
    const Loaded scene(Vec3(0, bending / (length * length), 0));
    const FoundEquilibrium answer = solve(scene.system, scene.cantilever.rest, {}, {.max_iterations = 2});
    const NotConverged& failure = std::get<NotConverged>(answer);
    EXPECT_EQ(failure.iterations, 2);
    EXPECT_LT(total_energy(scene.system, failure.best), 0);
    EXPECT_NE(failure.reason.find("too many iterations after 2 iterations"), std::string::npos) << failure.reason;
}

/// A cable from a wheel of radius 30 to a slide along its axis u.
std::shared_ptr<const Element> from_wheel() {
    const Frame slide = Frame::on_ground().then(Joint{JointKind::slide, Vec3::UnitX(), ScalarId(0), {}});
    Contact wheel{Frame::on_ground(), Contact::Sheave{}};
    wheel.sheave->groove = std::make_shared<const Groove>(Groove::circle(Vec2::Zero(), 30));
    return std::make_shared<Cable>(std::vector<Contact>{wheel, {slide, {}}},
                                   Cable::Data{.stiffness = 1000, .natural_length = 50});
}

TEST(NotConverged, RefusesAStartWithoutEnergy) {
    const System system({.scalars = 1}, {from_wheel()});
    const FoundEquilibrium answer = solve(system, scalars({10}));  // inside the wheel
    const NotConverged& failure = std::get<NotConverged>(answer);
    EXPECT_EQ(failure.iterations, 0);
    EXPECT_NE(failure.reason.find("the start has no finite energy"), std::string::npos) << failure.reason;
}

TEST(NotConverged, SaysNothingOfTheSearchBeforeInTheSameWorkspace) {
    const System system({.scalars = 1}, {from_wheel()});
    Workspace workspace(system);
    (void)find_equilibrium(system, scalars({200}), {}, workspace, {.max_iterations = 1});
    const FoundEquilibrium answer = find_equilibrium(system, scalars({10}), {}, workspace);
    EXPECT_EQ(std::get<NotConverged>(answer).worst_freedom, -1) << std::get<NotConverged>(answer).reason;
}

}  // namespace
}  // namespace limbwright::solver
