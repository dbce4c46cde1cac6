#include "solver/lanes/lane_elements.hpp"

#include <gtest/gtest.h>

#include "solver/elements/laminate.hpp"
#include "solver/system/equilibrium.hpp"
#include "tests/support/complaint.hpp"

namespace limbwright::solver::lane_elements_test {
namespace {

/// A row of shells from a clamped edge, the last edge carried by a hinge on one node: corners that are nodes
/// and corners that are not.
struct Row {
    double stiffer = 1;  ///< stiffness of its wall
    double longer = 0;   ///< of its first cell [mm]
    double taut = 1;     ///< membrane's stiffness along the row over that of the laminate

    static constexpr int cells = 3;
    [[nodiscard]] Vec3 place(int i, int j) const {
        return {20. * i + (i > 0 ? longer : 0), 15. * j, 0.4 * i * i};
    }
    [[nodiscard]] State rest() const {
        State state;
        for (int i = 1; i < cells; ++i)
            for (int j = 0; j < 2; ++j)
                state.nodes.push_back({exp<double>(Vec3(0.1 * i, 0, 0)), place(i, j)});
        state.nodes.push_back({exp<double>(Vec3(0, 0.3, 0)), place(cells, 0)});
        state.scalars = {0};
        return state;
    }
    [[nodiscard]] System system() const {
        const State state = rest();
        const NodeId last(2 * (cells - 1));
        const Frame hinge = Frame::on(last).then({JointKind::hinge, Vec3::UnitY(), ScalarId(0), {}});
        const auto frame = [&](int i, int j) {
            if (i == 0) return Frame::on_ground(Pose{{}, place(0, j)});
            if (i < cells) return Frame::on(NodeId(2 * (i - 1) + j));
            return hinge.then(pose(hinge, state).inverse() * Pose{{}, place(i, j)});
        };
        WallStiffness wall = stiffer * wall_stiffness({{{42000, 10500, 0.27, 4200, 4200, 3750}, 0.3, 3}});
        wall(0, 0) *= taut;
        System::Elements elements;
        for (int i = 0; i < cells; ++i) {
            std::vector<Frame> frames;
            std::vector<ShellCorner> corners;
            for (const auto& [k, j] : {std::pair{i, 0}, {i + 1, 0}, {i + 1, 1}, {i, 1}}) {
                frames.push_back(frame(k, j));
                corners.push_back({pose(frames.back(), state), Vec3(-0.04 * k, 0, 1).normalized()});
            }
            elements.push_back(std::make_shared<Shell>(frames, corners, Vec3::UnitX(), wall));
        }
        elements.push_back(std::make_shared<Spring>(std::vector{std::pair{ScalarId(0), 1.}},
                                                    Spring::Data{.stiffness = 3e4, .load = 500}));
        return {{static_cast<int>(state.nodes.size()), 0, 1}, elements};
    }
};

void load(LanePack& pack, const std::vector<System>& systems) {
    for (std::size_t e = 0; e < systems[0].elements().size(); ++e) {
        LanePack::PerLane lanes;
        for (std::size_t i = 0; i < lanes.size(); ++i) lanes[i] = &systems[i].elements()[e];
        pack.set_element(e, lanes);
    }
}

TEST(LaneShell, TakesThePlainEnginesNewtonStepForEveryStiffness) {
    std::vector<System> systems;
    for (int i = 0; i < LanePack::width; ++i) systems.push_back(Row{1 + 0.15 * i}.system());
    State start = Row{}.rest();
    for (std::size_t n = 0; n < start.nodes.size(); ++n)
        start.nodes[n] = start.nodes[n] * Pose{exp<double>(Vec3(0.02, -0.01 * double(n), 0.01)),
                                               Vec3(0.1, 0.05, 0.3 * double(n))};
    constexpr std::array<bool, LanePack::width> everyone{true, true, true, true, true, true, true, true};
    for (const LaneKernel& kernel : lane_kernels()) {
        if (!kernel.runs_here) continue;
        const auto pack = make_lane_pack(systems[0].shared_plan(), kernel.name);
        load(*pack, systems);
        for (int i = 0; i < LanePack::width; ++i) pack->set_state(i, start);
        pack->factor({});
        pack->step(everyone);
        for (int i = 0; i < LanePack::width; ++i) {
            const System& system = systems[static_cast<std::size_t>(i)];
            BlockMatrix K(system.shared_plan());
            BlockFactor factor(system.shared_plan());
            VecX g, sizes;
            assemble(system, start, g, sizes, K);
            ASSERT_TRUE(factor.factor(K, {}));
            const VecX step = factor.solve(-g);
            const State plain = moved(start, step);
            State lane;
            pack->copy_state(i, lane);
            // The same sums in another order; shells' membranes are 1e4 times as stiff as their bending.
            const double rounding = 1e-10 * step.norm();
            for (std::size_t n = 0; n < plain.nodes.size(); ++n) {
                EXPECT_LT((plain.nodes[n].position - lane.nodes[n].position).norm(), rounding) << kernel.name;
                EXPECT_LT((plain.nodes[n].rotation.v - lane.nodes[n].rotation.v).norm(), rounding);
            }
            EXPECT_NEAR(plain.scalars[0], lane.scalars[0], rounding);
        }
    }
}

TEST(LaneShell, RefusesShellsOfOtherShapes) {
    std::vector<System> systems(LanePack::width, Row{}.system());
    const auto pack = make_lane_pack(systems[0].shared_plan());
    EXPECT_NO_THROW(load(*pack, systems));
    systems[5] = Row{1, 0.01}.system();
    EXPECT_THROW(load(*pack, systems), std::invalid_argument);
}

TEST(LaneShell, RefusesShellsThatDifferInTheirMembraneAlone) {
    std::vector<System> systems(LanePack::width, Row{}.system());
    const auto pack = make_lane_pack(systems[0].shared_plan());
    systems[5] = Row{.taut = 1.5}.system();
    EXPECT_THROW(load(*pack, systems), std::invalid_argument);
}

/// What a pack says to an element in seven lanes and another in the eighth.
std::string said_to(const std::shared_ptr<const Element>& one, const std::shared_ptr<const Element>& other,
                    const Numbering& numbering) {
    const System system(numbering, {one});
    const auto pack = make_lane_pack(system.shared_plan());
    LanePack::PerLane lanes;
    lanes.fill(&one);
    pack->set_element(0, lanes);
    lanes.back() = &other;
    return testing::complaint([&] { pack->set_element(0, lanes); });
}

std::shared_ptr<const Element> beam(const Frame& end1, const Frame& end2) {
    return std::make_shared<Beam>(end1, end2, beam_data({}, {{}, Vec3(20, 0, 0)}, [](double) {
                                      return rectangle({40e3, 4e3}, 20, 6);
                                  }));
}

TEST(LaneBeam, RefusesBeamsBetweenOtherNodes) {
    const auto from_first = [](int to) { return beam(Frame::on(NodeId(0)), Frame::on(NodeId(to))); };
    EXPECT_EQ(said_to(from_first(1), from_first(2), {.nodes = 3}),
              "lanes hold elements with the same freedoms only");
}

TEST(LaneBeam, RefusesEndsOnOtherHinges) {
    const auto hinged = [](const Vec3& axis) {
        return beam(Frame::on_ground().then({JointKind::hinge, axis, ScalarId(0), {}}), Frame::on(NodeId(0)));
    };
    EXPECT_EQ(said_to(hinged(Vec3::UnitX()), hinged(Vec3::UnitY()), {.nodes = 1, .scalars = 1}),
              "lanes hold frames that differ in their offsets only");
}

TEST(LaneBeam, KeepsTheOffsetOfALaneBesideLanesWithout) {
    std::vector<System> systems;
    for (int i = 0; i < LanePack::width; ++i) {
        const Frame end = Frame::on(NodeId(1), Pose{{}, Vec3(0, i == 5 ? 2 : 0, 0)});
        systems.emplace_back(Numbering{.nodes = 2}, System::Elements{beam(Frame::on(NodeId(0)), end)});
    }
    const State start{.nodes = {{}, {{}, Vec3(20, 0.1, 0.2)}}, .points = {}, .scalars = {}};
    const std::vector<int> held{0, 1, 2, 3, 4, 5};
    const auto pack = make_lane_pack(systems[0].shared_plan());
    load(*pack, systems);
    for (int i = 0; i < LanePack::width; ++i) pack->set_state(i, start);
    pack->factor(held);
    const LanePack::Row decrements = pack->step({});
    for (std::size_t i = 0; i < systems.size(); ++i) {
        Workspace w(systems[i]);
        assemble(systems[i], start, w.gradient, w.sizes, w.tangent);
        ASSERT_TRUE(w.factor.factor(w.tangent, held));
        for (const int f : held) w.gradient[f] = 0;
        const double plain = w.gradient.dot(w.factor.solve(w.gradient));
        EXPECT_NEAR(decrements[i], plain, 1e-9 * plain) << i;  // the same sums in another order
    }
}

std::shared_ptr<const Element> cable(double radius, double expected,
                                     std::optional<double> dead_tension = {}) {
    const Sheave sheave{std::make_shared<Groove>(Groove::circle({5, 2}, radius)), 1, expected, expected, -3};
    return std::make_shared<Cable>(std::vector<Contact>{{Frame::on(NodeId(0)), sheave},
                                                        {Frame::on_ground(Pose{{}, Vec3(100, 0, 60)}), {}}},
                                   Cable::Data{40e3, 100, dead_tension});
}

TEST(LaneCable, RefusesCablesOverOtherSheaves) {
    EXPECT_EQ(said_to(cable(25, 1), cable(25, 1), {.nodes = 1}), "no complaint");
    EXPECT_EQ(said_to(cable(25, 1), cable(26, 1), {.nodes = 1}),
              "lanes hold cables over the same sheaves only");
    EXPECT_EQ(said_to(cable(25, 1), cable(25, 7), {.nodes = 1}),
              "lanes hold cables over the same sheaves only");
}

TEST(LaneCable, RefusesADeadTension) {
    EXPECT_EQ(said_to(cable(25, 1), cable(25, 1, 10), {.nodes = 1}),
              "lanes hold no cable under a dead tension");
}

TEST(LaneSpring, RefusesSpringsOfAnotherSide) {
    const auto stop = [](Side side) {
        return std::make_shared<Spring>(std::vector{std::pair{ScalarId(0), 1.}},
                                        Spring::Data{.stiffness = 1, .side = side});
    };
    EXPECT_EQ(said_to(stop(Side::above), stop(Side::below), {.scalars = 1}),
              "lanes hold springs on the same sum of scalars only, that act on the same side");
}

}  // namespace
}  // namespace limbwright::solver::lane_elements_test
