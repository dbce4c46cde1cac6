#include "solver/system/assembly.hpp"

#include "solver/elements/spring.hpp"
#include "tests/support/element_check.hpp"
#include "tests/support/link.hpp"

namespace limbwright::solver::assembly_test {
namespace {

using testing::Link;
using testing::Random;

State scene() {
    Random random(5);
    State state;
    state.nodes = {random.pose(1.5, 10), random.pose(1.5, 10), random.pose(1.5, 10)};
    state.points = {random.vector(10)};
    state.scalars = {0.7, -1.2};
    return state;
}

std::shared_ptr<const Element> link(const Frame& from, const Frame& to) {
    return std::make_shared<Link>(from, to, Mat3::Identity());
}

std::shared_ptr<const Element> spring(const Spring::Data& data) {
    return std::make_shared<Spring>(
        std::vector<std::pair<ScalarId, double>>{{ScalarId(0), 1.}, {ScalarId(1), 2.}}, data);
}

/// A triangle of nodes, a point hung to it on a hinge, and a spring.
System net() {
    const Pose offset{exp<double>(Vec3(0.4, -0.3, 0.5)), Vec3(3, -4, 2)};
    const auto corner = [&](int i) { return Frame::on(NodeId(i), offset); };
    return System(testing::numbering_of(scene()),
                  {link(corner(0), corner(1)), link(corner(1), corner(2)), link(corner(2), corner(0)),
                   link(Frame::on(PointId(0)),
                        corner(1).then(Joint{JointKind::hinge, Vec3::UnitZ(), ScalarId(0), offset})),
                   spring({.stiffness = 3, .rest = 1})});
}

struct Assembled {
    explicit Assembled(const System& system) : tangent(system.shared_plan()) {
        assemble(system, scene(), gradient, sizes, tangent);
    }
    VecX gradient, sizes;
    BlockMatrix tangent;
};

TEST(Assembly, TheTotalEnergyIsTheSumOverTheElements) {
    State state;
    state.scalars = {1, 2};
    const System system({.scalars = 2}, {spring({.stiffness = 4, .rest = 3}), spring({.load = 7})});
    EXPECT_DOUBLE_EQ(total_energy(system, state), 8 - 35);  // ½ · 4 · (5 − 3)² − 7 · 5
}

TEST(Assembly, TheTotalGradientIsTheSlopeOfTheTotalEnergy) {
    const System system = net();
    const VecX gradient = total_gradient(system, scene());
    const double h = 1e-30;
    for (int i = 0; i < system.numbering().used(); ++i) {
        Eigen::VectorXcd step = Eigen::VectorXcd::Zero(system.numbering().size());
        step[i] = testing::Complex(0, h);
        const StateOf<testing::Complex> stepped = moved(testing::complex_state(scene()), step);
        double slope = 0;
        for (const auto& element : system.elements()) slope += element->energy(stepped).imag() / h;
        EXPECT_NEAR(gradient[i], slope, testing::complex_step_accuracy * gradient.norm());
    }
}

TEST(Assembly, TheTangentIsTheSecondDerivativeOfTheTotalEnergy) {
    const System system = net();
    Random random(9);
    VecX step(system.numbering().size());
    for (double& entry : step) entry = random.number();
    const double h = 1e-4;
    const double second =
        (total_energy(system, moved(scene(), VecX(h * step))) - 2 * total_energy(system, scene()) +
         total_energy(system, moved(scene(), VecX(-h * step)))) /
        (h * h);
    const double expected = step.dot(Assembled(system).tangent.times(step));
    EXPECT_NEAR(second, expected,
                1e-5 * std::abs(expected));  // energies of 1e3 rounded at 1e-16 over h² = 1e-8
}

TEST(Assembly, GivesTheSameGradientWithTheTangentAsWithout) {
    const System system = net();
    EXPECT_EQ(Assembled(system).gradient, total_gradient(system, scene()));
}

TEST(Assembly, SizesAddUpWhereGradientsCancel) {
    State state;
    state.scalars = {0, 0};
    const System system({.scalars = 2}, {spring({.load = 5}), spring({.load = -5})});
    VecX gradient, sizes;
    BlockMatrix tangent(system.shared_plan());
    assemble(system, state, gradient, sizes, tangent);
    EXPECT_EQ(gradient[1], 0);
    EXPECT_DOUBLE_EQ(sizes[1], 20);
}

TEST(Assembly, FillsEverythingAnew) {
    const System system = net();
    Assembled twice(system);
    assemble(system, scene(), twice.gradient, twice.sizes, twice.tangent);
    const Assembled once(system);
    EXPECT_EQ(twice.gradient, once.gradient);
    EXPECT_EQ(twice.sizes, once.sizes);
    EXPECT_EQ(twice.tangent.dense(), once.tangent.dense());
}

}  // namespace
}  // namespace limbwright::solver::assembly_test
