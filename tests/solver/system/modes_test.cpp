#include "solver/system/modes.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/elements/beam.hpp"
#include "solver/elements/cable.hpp"
#include "solver/elements/spring.hpp"
#include "solver/system/assembly.hpp"
#include "tests/support/observed_order.hpp"

namespace limbwright::solver::modes_test {
namespace {

using std::numbers::pi;
using testing::extrapolated;
using testing::observed_order;

constexpr double length = 500, bending = 4e6, line_mass = 3e-7;  // mm, N mm², t/mm

Modes found(const std::variant<Modes, NoModes>& answer) {
    if (const auto* none = std::get_if<NoModes>(&answer)) throw std::runtime_error(none->reason);
    return std::get<Modes>(answer);
}

/// Nodes along x joined by beams that bend in the xy plane, all but rigid against shear, their sections all
/// but without rotary inertia: what closed forms after Euler and Bernoulli ask for. Nothing moves out of the
/// plane.
struct Chain {
    State state;
    System::Elements elements;
    std::vector<Body> bodies;
    std::vector<int> held;

    [[nodiscard]] int last() const { return static_cast<int>(state.nodes.size()) - 1; }
    void hold(int node, int freedom) { held.push_back(6 * node + freedom); }
    [[nodiscard]] Modes modes(int count) const {
        const System system({.nodes = last() + 1}, elements);
        return found(find_modes(system, state, bodies, held, count));
    }
};

/// @param strain  by which the state is longer than the chain at rest; the state's length is `length`
Chain chain(int beams, double strain = 0, double stretch = 1e9) {
    Chain c;
    const double rest = length / beams / (1 + strain);
    const auto at = [](double x) { return Pose{{}, {x, 0, 0}}; };
    for (int i = 0; i <= beams; ++i) {
        c.state.nodes.push_back(at(length * i / beams));
        for (const int out_of_plane : {2, 3, 4}) c.hold(i, out_of_plane);
    }
    for (int i = 0; i < beams; ++i) {
        const Frame a = Frame::on(NodeId(i)), b = Frame::on(NodeId(i + 1));
        c.elements.push_back(
            std::make_shared<const Beam>(a, b, beam_data(at(i * rest), at((i + 1) * rest), [=](double) {
                                             return diagonal_section(stretch, 1e10, 1e10, 1e9, 1e9, bending);
                                         })));
        for (const Body& body : segment_masses(a, b, length / beams, [](double) {
                 return SectionMass{line_mass, Vec3::Constant(1e-4 * line_mass)};
             }))
            c.bodies.push_back(body);
    }
    return c;
}
Chain cantilever(int beams) {
    Chain c = chain(beams);
    for (const int freedom : {0, 1, 5}) c.hold(0, freedom);
    return c;
}
/// Both ends held, free to turn, under an axial force, positive for tension.
Chain pinned(int beams, double force) {
    constexpr double stretch = 1e9;
    Chain c = chain(beams, force / stretch, stretch);
    for (const int end : {0, c.last()})
        for (const int freedom : {0, 1}) c.hold(end, freedom);
    return c;
}

/// ω of a beam's mode with a given βL: (βL)² √(EI/(ρA L⁴)).
double omega_of(double beta_length) {
    return beta_length * beta_length * std::sqrt(bending / line_mass) / (length * length);
}
double omega(const Mode& mode) {
    return std::sqrt(mode.eigenvalue);
}

/// The root of a function between two places of opposite sign.
template <class F>
double root(const F& f, double low, double high) {
    for (int i = 0; i < 200; ++i) {
        const double middle = 0.5 * (low + high);
        (f(low) * f(middle) <= 0 ? high : low) = middle;
    }
    return 0.5 * (low + high);
}

// Lumped masses leave an error of h²; what is left after it is taken out goes with h⁴: 1e-5 for the third
// mode of 24 and 48 beams.
constexpr double after_extrapolation = 2e-5;

TEST(Modes, ACantileverSwingsAtTheHandbooksFirstThreeFrequencies) {
    // cos βL cosh βL = −1: 1.8751, 4.6941, 7.8548 (Blevins, Formulas for Natural Frequency and Mode Shape).
    const auto characteristic = [](double x) { return std::cos(x) * std::cosh(x) + 1; };
    const double handbook[] = {1.8751, 4.6941, 7.8548};
    const Modes coarse = cantilever(24).modes(3), fine = cantilever(48).modes(3);
    for (std::size_t i = 0; i < 3; ++i) {
        const double exact = root(characteristic, handbook[i] - 0.01, handbook[i] + 0.01);
        EXPECT_NEAR(extrapolated(omega(coarse.lowest[i]), omega(fine.lowest[i])) / omega_of(exact), 1,
                    after_extrapolation);
    }
}

TEST(Modes, LumpedMassesConvergeWithTheSquareOfTheBeamsLength) {
    const double exact = omega_of(root([](double x) { return std::cos(x) * std::cosh(x) + 1; }, 1.8, 1.9));
    const double order = observed_order(omega(cantilever(16).modes(1).lowest[0]) - exact,
                                        omega(cantilever(32).modes(1).lowest[0]) - exact);
    EXPECT_NEAR(order, 2, 0.05);  // terms of higher order
}

TEST(Modes, ATipMassSlowsACantileverAsTheFrequencyEquationSays) {
    // 1 + cos x cosh x + μ x (cos x sinh x − sin x cosh x) = 0, μ the tip's mass over the beam's (Blevins).
    constexpr double mu = 0.5;
    const auto equation = [&](double x) {
        return 1 + std::cos(x) * std::cosh(x) +
               mu * x * (std::cos(x) * std::sinh(x) - std::sin(x) * std::cosh(x));
    };
    const double exact[] = {root(equation, 1, 1.8), root(equation, 3.8, 4.6)};
    const auto with_tip = [&](int beams) {
        Chain c = cantilever(beams);
        c.bodies.push_back({.frame = Frame::on(NodeId(c.last())), .mass = mu * line_mass * length});
        return c.modes(2);
    };
    const Modes coarse = with_tip(24), fine = with_tip(48);
    for (std::size_t i = 0; i < 2; ++i)
        EXPECT_NEAR(extrapolated(omega(coarse.lowest[i]), omega(fine.lowest[i])) / omega_of(exact[i]), 1,
                    after_extrapolation);
}

TEST(Modes, AFreeBeamHasItsRigidMotionsAtZeroAndThenTheHandbooksFrequency) {
    // cos βL cosh βL = 1: 4.7300 (Blevins).
    const double exact = root([](double x) { return std::cos(x) * std::cosh(x) - 1; }, 4.7, 4.76);
    const Modes coarse = chain(24).modes(4), fine = chain(48).modes(4);
    for (std::size_t rigid = 0; rigid < 3; ++rigid)
        EXPECT_LT(std::abs(fine.lowest[rigid].eigenvalue), 1e-4 * fine.lowest[3].eigenvalue);
    EXPECT_EQ(fine.unstable, 0);
    EXPECT_NEAR(extrapolated(omega(coarse.lowest[3]), omega(fine.lowest[3])) / omega_of(exact), 1,
                after_extrapolation);
}

/// ω² of a pinned beam under an axial force: (kπ/L)² (EI (kπ/L)² + N)/(ρA) (Timoshenko, Vibration Problems in
/// Engineering).
double pinned_eigenvalue(int k, double force) {
    const double wave = k * pi / length;
    return wave * wave * (bending * wave * wave + force) / line_mass;
}
constexpr double critical = pi * pi * bending / (length * length);  // Euler's column [N]

TEST(Modes, AnAxialForceRaisesOrLowersAPinnedBeamsFrequencies) {
    for (const double force : {3 * critical, 0., -0.5 * critical}) {
        const Modes coarse = pinned(16, force).modes(2), fine = pinned(32, force).modes(2);
        for (std::size_t i = 0; i < 2; ++i)
            EXPECT_NEAR(extrapolated(coarse.lowest[i].eigenvalue, fine.lowest[i].eigenvalue) /
                            pinned_eigenvalue(static_cast<int>(i) + 1, force),
                        1, 1e-4);  // h⁴
    }
}

TEST(Modes, AColumnPastItsCriticalLoadHasOneDirectionInWhichItRunsAway) {
    const double force = -1.5 * critical;
    const Modes modes = pinned(32, force).modes(3);
    EXPECT_EQ(modes.unstable, 1);
    EXPECT_NEAR(modes.lowest[0].growth_rate() / std::sqrt(-pinned_eigenvalue(1, force)), 1, 0.01);  // h²
    EXPECT_TRUE(std::isnan(modes.lowest[0].frequency()));
    EXPECT_GT(modes.lowest[1].eigenvalue, 0);
}

TEST(Modes, ASymmetricBeamsModesAreEvenOrOdd) {
    const Modes modes = pinned(12, 0).modes(4);
    for (std::size_t k = 0; k < 4; ++k)
        for (int node = 0; node <= 12; ++node) {
            const double here = modes.lowest[k].shape[6 * node + 1];
            const double there = modes.lowest[k].shape[6 * (12 - node) + 1];
            EXPECT_NEAR(here, k % 2 == 0 ? there : -there,
                        1e-8 * modes.lowest[k].shape.cwiseAbs().maxCoeff());  // of the iteration
        }
}

/// Equal lumps along a taut, massless line whose ends are held.
struct Beads {
    static constexpr double tension = 90, span = 700;
    int runs;
    double mass = line_mass * span / runs;
    State state{};
    System::Elements elements{};
    std::vector<Body> bodies{};

    explicit Beads(int n) : runs(n) {
        const auto at = [&](int i) { return Vec3(span * i / runs, 0, 0); };
        const auto frame = [&](int i) {
            return i == 0 || i == runs ? Frame::on_ground(Pose{{}, at(i)}) : Frame::on(PointId(i - 1));
        };
        for (int i = 1; i < runs; ++i) {
            state.points.push_back(at(i));
            bodies.push_back({.frame = frame(i), .mass = mass});
        }
        const double run = span / runs, stiffness = 5e4;
        for (int i = 0; i < runs; ++i)
            elements.push_back(
                std::make_shared<const Cable>(std::vector<Contact>{{frame(i), {}}, {frame(i + 1), {}}},
                                              Cable::Data{stiffness, run / (1 + tension / stiffness), {}}));
    }
    [[nodiscard]] Modes modes(int count) const {
        return found(
            find_modes(System({.nodes = 0, .points = runs - 1}, elements), state, bodies, {}, count));
    }
};

TEST(Modes, BeadsOnATautLineSwingAsTheirClosedFormInBothPlanes) {
    // ω = 2 √(T/(m h)) sin(kπ/2n), each twice (Rayleigh, Theory of Sound, section 120).
    const Beads beads(10);
    const Modes modes = beads.modes(6);
    for (std::size_t i = 0; i < 6; ++i) {
        const double k = static_cast<double>(i / 2 + 1);
        const double exact = 2 * std::sqrt(Beads::tension / (beads.mass * Beads::span / beads.runs)) *
                             std::sin(k * pi / (2 * beads.runs));
        EXPECT_NEAR(omega(modes.lowest[i]) / exact, 1, 1e-9);  // of the iteration
    }
}

TEST(Modes, ManyBeadsSwingAsAString) {
    // π/L √(T/μ), from below with the square of the beads' distance.
    const double exact = pi / Beads::span * std::sqrt(Beads::tension / line_mass);
    const double coarse = omega(Beads(20).modes(1).lowest[0]), fine = omega(Beads(40).modes(1).lowest[0]);
    EXPECT_NEAR(observed_order(coarse - exact, fine - exact), 2, 0.01);
    EXPECT_NEAR(fine / exact, 1, 5e-4);
}

TEST(Modes, APendulumSwingsByItsMassAndItsInertia) {
    // ω² = m g l/(m l² + Θ), two of them side by side.
    System::Elements elements;
    std::vector<Body> bodies;
    const double arms[] = {100, 240}, mass = 2, inertia = 3000, weight = 5;
    for (int i = 0; i < 2; ++i) {
        const Frame bob = Frame::on_ground().then(
            {JointKind::hinge, Vec3::UnitY(), ScalarId(i), Pose{{}, {0, 0, -arms[i]}}});
        elements.push_back(std::make_shared<const DeadForce>(bob, Vec3(0, 0, -weight)));
        bodies.push_back({.frame = bob, .mass = mass, .inertia = inertia * Mat3::Identity()});
    }
    const State state{.nodes = {}, .points = {}, .scalars = {0, 0}};
    const std::vector<int> held;
    Numbering numbering{.nodes = 0, .points = 0, .scalars = 2};
    const Modes modes = found(find_modes(System(numbering, elements), state, bodies, held, 2));
    ASSERT_EQ(modes.lowest.size(), 1u);  // one less than there are freedoms
    EXPECT_NEAR(modes.lowest[0].eigenvalue / (weight * 240 / (mass * 240 * 240 + inertia)), 1, 1e-12);
}

TEST(Modes, ShapesAreOrthonormalByTheMasses) {
    const Chain c = cantilever(12);
    const Modes modes = c.modes(5);
    for (std::size_t i = 0; i < 5; ++i)
        for (std::size_t j = 0; j < 5; ++j) {
            double product = 0;
            for (const Body& body : c.bodies) {
                const Numbering n{.nodes = 13};
                const Vec6 a = motion_of(body, c.state, modes.lowest[i].shape, n);
                const Vec6 b = motion_of(body, c.state, modes.lowest[j].shape, n);
                product += body.mass * a.head<3>().dot(b.head<3>()) +
                           a.tail<3>().dot(body.inertia * Vec3(b.tail<3>()));
            }
            EXPECT_NEAR(product, i == j ? 1 : 0, 1e-9);  // of the iteration
        }
}

TEST(Modes, AreThoseOfADenseEigensolver) {
    // A column past its second critical load, so that signs are mixed; Eigen's solver on the free freedoms.
    const Chain c = pinned(10, -5 * critical);
    const System system({.nodes = 11}, c.elements);
    BlockMatrix tangent(system.shared_plan());
    VecX gradient, sizes;
    assemble(system, c.state, gradient, sizes, tangent);
    MatX M = MatX::Zero(66, 66);
    for (const Body& body : c.bodies) {
        const int at = 6 * body.frame.node.value;
        M.block<6, 6>(at, at) += mass_matrix(body, c.state);
    }
    std::vector<int> free;
    for (int f = 0; f < 66; ++f)
        if (std::ranges::find(c.held, f) == c.held.end()) free.push_back(f);
    const MatX K = tangent.dense()(free, free);
    const VecX exact =
        Eigen::GeneralizedSelfAdjointEigenSolver<MatX>(K, MatX(M(free, free)), Eigen::EigenvaluesOnly)
            .eigenvalues();
    const Modes modes = c.modes(8);
    EXPECT_EQ(modes.unstable, 2);
    // The dense solver's rounding goes with its largest eigenvalue, some 1e8 of the lowest.
    for (int i = 0; i < 8; ++i)
        EXPECT_NEAR(modes.lowest[static_cast<std::size_t>(i)].eigenvalue, exact[i],
                    1e-14 * exact.cwiseAbs().maxCoeff())
            << i;
}

TEST(Modes, AFreedomWithoutMassIsNamed) {
    Chain c = cantilever(4);
    std::erase_if(c.bodies, [](const Body& body) { return body.frame.node == NodeId(3); });
    const System system({.nodes = 5}, c.elements);
    const auto answer = find_modes(system, c.state, c.bodies, c.held, 2);
    const auto* none = std::get_if<NoModes>(&answer);
    ASSERT_TRUE(none);
    EXPECT_EQ(none->freedom, 6 * 3);
    EXPECT_EQ(none->reason, "freedom 18 has no mass");
}

}  // namespace
}  // namespace limbwright::solver::modes_test
