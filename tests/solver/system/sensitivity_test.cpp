#include "solver/system/sensitivity.hpp"

#include "solver/system/equilibrium.hpp"
#include "tests/support/cantilever.hpp"
#include "tests/support/element_check.hpp"

namespace limbwright::solver::sensitivity_test {
namespace {

using Weights = std::vector<std::pair<ScalarId, double>>;

/// Two scalars in a row: a spring between them, another from the second to the ground, resting at `rest`.
System two_springs(double between, double to_ground, double rest) {
    return System({.scalars = 2},
                  {std::make_shared<Spring>(Weights{{ScalarId(0), 1.}, {ScalarId(1), -1.}},
                                            Spring::Data{.stiffness = between}),
                   std::make_shared<Spring>(Weights{{ScalarId(1), 1.}},
                                            Spring::Data{.stiffness = to_ground, .rest = rest})});
}

State scalars(double first, double second) {
    State state;
    state.scalars = {first, second};
    return state;
}

TEST(FactoredState, AnswersALoadAsSpringsInARowDo) {
    const FactoredState state(two_springs(4, 10, 0), scalars(0, 0), {});
    VecX load = VecX::Zero(6);
    load[0] = 20;
    const VecX answer = state.answer(load);
    EXPECT_DOUBLE_EQ(answer[1], 2);      // 20 / 10
    EXPECT_DOUBLE_EQ(answer[0], 2 + 5);  // and 20 / 4
}

TEST(FactoredState, MovesWithARestAsFarAsItsHoldsLetIt) {
    // Held at 3, the first pulls the second: 4 (3 − q) = 10 (q − s), dq/ds = 10 / 14.
    const int held[] = {0};
    const double s = 1, q = (4 * 3 + 10 * s) / 14, h = 0.1;
    const FactoredState state(two_springs(4, 10, s), scalars(3, q), held);
    const VecX slope = state.slope(two_springs(4, 10, s + h), two_springs(4, 10, s - h), h);
    EXPECT_EQ(slope[0], 0);
    EXPECT_NEAR(slope[1], 10. / 14, 1e-14);
    EXPECT_NEAR(state.gradient()[0], 4 * (3 - q), 1e-14);  // what holds it
    EXPECT_NEAR(state.gradient()[1], 0, 1e-14);
    EXPECT_NEAR(state.along(slope, 2).scalars[1], q + 20. / 14, 1e-14);
}

TEST(FactoredState, OfPartsThatAreFreeToMoveIsRefused) {
    EXPECT_THROW(FactoredState(two_springs(4, 0, 0), scalars(0, 0), {}), std::runtime_error);
}

constexpr double length = 100, bending = 1e6;

/// A cantilever along X, under a force at its tip that bends it by some 30 degrees.
struct Bent {
    testing::Cantilever cantilever = testing::make_cantilever(8, testing::straight(length), [](double) {
        return diagonal_section(1e6, 1e6, 1e6, 1e8, 1e8, bending);
    });

    [[nodiscard]] System under(double force) const {
        System::Elements elements = cantilever.elements;
        elements.push_back(
            std::make_shared<DeadForce>(Frame::on(cantilever.tip), Vec3(0.3 * force, force, 0.2 * force)));
        return {testing::numbering_of(cantilever.rest), std::move(elements)};
    }
    [[nodiscard]] State at(double force) const {
        const System system = under(force);
        Workspace workspace(system);
        return testing::found(find_equilibrium(system, cantilever.rest, {}, workspace)).state;
    }
};

TEST(FactoredState, OfALargeBendMovesAsStatesSolvedAnew) {
    const Bent bent;
    const double force = bending / (length * length), h = 1e-3 * force;
    const FactoredState state(bent.under(force), bent.at(force), {});
    const VecX slope = state.slope(bent.under(force + h), bent.under(force - h), h);
    const System system = bent.under(force);
    const VecX anew = (step_between(state.state(), bent.at(force + h), system.numbering()) -
                       step_between(state.state(), bent.at(force - h), system.numbering())) /
                      (2 * h);
    // Third derivatives leave h² = 1e-6 of the whole, which is what the slope predicts for all of the force.
    EXPECT_LT((slope - anew).lpNorm<Eigen::Infinity>(), 1e-5 * slope.lpNorm<Eigen::Infinity>());
}

TEST(DerivativeAlong, IsTheChangePerUnitOfADirection) {
    const State state = scalars(3, 5);
    VecX direction = VecX::Zero(6);
    direction.head<2>() << 200, -100;
    const auto product = [](const State& x) { return x.scalars[0] * x.scalars[1]; };
    EXPECT_NEAR(derivative_along(direction, state, product), 200 * 5 - 100 * 3, 1e-7);
    const auto both = [](const State& x) -> VecX {
        return Eigen::Vector2d(x.scalars[1], std::exp(x.scalars[0]));
    };
    const VecX slopes = derivative_along(direction, state, both);
    EXPECT_NEAR(slopes[0], -100, 1e-7);
    EXPECT_NEAR(slopes[1], 200 * std::exp(3), 1e-6 * 200 * std::exp(3));  // h² / 6, h = 1e-3
    EXPECT_EQ(derivative_along(VecX::Zero(6), state, product), 0);
}

TEST(FactoredState, AnswersBothWaysAlike) {
    const Bent bent;
    const double force = bending / (length * length);
    const FactoredState state(bent.under(force), bent.at(force), {});
    const int n = static_cast<int>(state.gradient().size());
    const VecX one = VecX::Unit(n, 7), other = VecX::Unit(n, n - 5);
    const double there = other.dot(state.answer(one)), back = one.dot(state.answer(other));
    EXPECT_NE(there, 0);
    EXPECT_NEAR(there, back, 1e-9 * std::abs(there));  // rounding times stretch against bending, 1e4
}

}  // namespace
}  // namespace limbwright::solver::sensitivity_test
