#include "solver/lanes/lane_solver.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/elements/beam.hpp"
#include "solver/elements/cable.hpp"
#include "solver/elements/spring.hpp"
#include "solver/system/assembly.hpp"

namespace limbwright::solver::lane_solver_test {
namespace {

/// A bent arm of beams from a hinged root, whose tip a cable from an eccentric sheave pulls over an eye, with
/// a stop on the sheave's turn: one of every kind of element and of frame.
struct Arm {
    double stiffer = 1;      ///< beams' stiffness
    double eye = 0;          ///< shift of the eye [mm]
    double shorter = 0;      ///< of the cable [mm]
    double meets_at = 0.05;  ///< the stop [rad]

    [[nodiscard]] System system() const {
        const auto section = [&](double) { return rectangle({40e3 * stiffer, 4e3 * stiffer}, 20, 6); };
        const auto at = [](int i) {
            return Pose{exp<double>(Vec3(0, -0.05 * i, 0)), Vec3(40. * i, 0, 1.5 * i * i)};
        };
        const Frame root = Frame::on_ground(at(0)).then({JointKind::hinge, Vec3::UnitY(), ScalarId(0), {}});
        System::Elements elements;
        for (int i = 0; i < 4; ++i)
            elements.push_back(std::make_shared<Beam>(i == 0 ? root : Frame::on(NodeId(i - 1)),
                                                      Frame::on(NodeId(i)),
                                                      beam_data(at(i), at(i + 1), section)));
        elements.push_back(std::make_shared<Spring>(std::vector{std::pair{ScalarId(0), 1.}},
                                                    Spring::Data{.stiffness = 4e5}));
        const Frame axle = Frame::on_ground(Pose{exp<double>(Vec3(1.5, 0, 0)), Vec3(150, 3, 150)})
                               .then({JointKind::hinge, Vec3::UnitZ(), ScalarId(1), {}});
        const Sheave sheave{std::make_shared<Groove>(Groove::circle({5, 2}, 25)), 1, -1, -1, -3};
        elements.push_back(
            std::make_shared<Cable>(std::vector<Contact>{{axle, sheave},
                                                         {Frame::on_ground(Pose{{}, Vec3(100, eye, 60)}), {}},
                                                         {Frame::on(NodeId(3), Pose{{}, Vec3(0, 4, 3)}), {}}},
                                    Cable::Data{40e3, natural_length() - shorter, {}}));
        elements.push_back(
            std::make_shared<Spring>(std::vector{std::pair{ScalarId(1), 1.}},
                                     Spring::Data{.stiffness = 3e5, .rest = meets_at, .side = Side::above}));
        elements.push_back(std::make_shared<Spring>(std::vector{std::pair{ScalarId(1), 1.}},
                                                    Spring::Data{.stiffness = 2e4, .load = 900}));
        return {{4, 0, 2}, elements};
    }
    [[nodiscard]] static State rest() {
        State state;
        for (int i = 1; i <= 4; ++i)
            state.nodes.push_back({exp<double>(Vec3(0, -0.05 * i, 0)), Vec3(40. * i, 0, 1.5 * i * i)});
        state.scalars = {0, 0};
        return state;
    }

private:
    static double natural_length() { return 160.8; }
};

std::array<Arm, LanePack::width> eight_arms() {
    std::array<Arm, LanePack::width> arms;
    for (int i = 0; i < LanePack::width; ++i)
        arms[static_cast<std::size_t>(i)] = {1 + 0.02 * i, 0.5 * i, 0.1 * i, 0.05 - 0.01 * i};
    return arms;
}

void load(LanePack& pack, const std::vector<System>& systems) {
    for (std::size_t e = 0; e < systems[0].elements().size(); ++e) {
        LanePack::PerLane lanes;
        for (std::size_t i = 0; i < lanes.size(); ++i) lanes[i] = &systems[i].elements()[e];
        pack.set_element(e, lanes);
    }
}

std::vector<System> systems_of(const std::array<Arm, LanePack::width>& arms) {
    std::vector<System> systems;
    for (const Arm& arm : arms) systems.push_back(arm.system());
    return systems;
}

constexpr std::array<bool, LanePack::width> everyone{true, true, true, true, true, true, true, true};

class EveryKernel : public ::testing::TestWithParam<LaneKernel> {
protected:
    void SetUp() override {
        if (!GetParam().runs_here) GTEST_SKIP() << "this processor lacks the instructions";
    }
};

/// What a lane and the plain engine may differ by: both do the same sums in another order.
constexpr double rounding = 1e-11;

TEST_P(EveryKernel, TakesThePlainEnginesNewtonStepInEveryLane) {
    const std::vector<System> systems = systems_of(eight_arms());
    const auto pack = make_lane_pack(systems[0].shared_plan(), GetParam().name);
    load(*pack, systems);
    State start = Arm::rest();
    start.scalars[1] = 0.02;  // some lanes' stops act, others' do not
    for (int i = 0; i < LanePack::width; ++i) pack->set_state(i, start);
    pack->factor({});
    const LanePack::Row decrements = pack->step(everyone);
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
        const double size = step.norm();
        for (std::size_t n = 0; n < plain.nodes.size(); ++n) {
            EXPECT_LT((plain.nodes[n].position - lane.nodes[n].position).norm(), rounding * size);
            EXPECT_LT((plain.nodes[n].rotation.v - lane.nodes[n].rotation.v).norm(), rounding * size);
        }
        for (std::size_t s = 0; s < 2; ++s)
            EXPECT_NEAR(plain.scalars[s], lane.scalars[s], rounding * size) << "lane " << i;
        const double decrement = -g.dot(step);
        EXPECT_NEAR(decrements[static_cast<std::size_t>(i)], decrement, 1e-9 * std::abs(decrement));
        EXPECT_EQ(pack->negative_pivots()[static_cast<std::size_t>(i)], factor.negative_pivots());
    }
}

TEST_P(EveryKernel, DoesNotLetALaneFeelItsNeighbours) {
    const std::array<Arm, LanePack::width> arms = eight_arms();
    std::array<Arm, LanePack::width> others = arms;
    for (std::size_t i = 0; i < others.size(); ++i)
        if (i != 3) others[i] = {2, 10, 3, -1};
    State results[2];
    for (int round = 0; round < 2; ++round) {
        const std::vector<System> systems = systems_of(round == 0 ? arms : others);
        const auto pack = make_lane_pack(systems[0].shared_plan(), GetParam().name);
        load(*pack, systems);
        for (int i = 0; i < LanePack::width; ++i) {
            State start = Arm::rest();
            // A turn of the neighbours so large that they take the other branch of the logarithm.
            if (round == 1 && i != 3)
                start.nodes[2].rotation = start.nodes[2].rotation * exp<double>(Vec3(0, 1.2, 0));
            pack->set_state(i, start);
        }
        for (int iteration = 0; iteration < 3; ++iteration) {
            pack->factor({});
            pack->step(everyone);
        }
        pack->copy_state(3, results[round]);
    }
    for (std::size_t n = 0; n < results[0].nodes.size(); ++n) {
        EXPECT_EQ(results[0].nodes[n].position, results[1].nodes[n].position);
        EXPECT_EQ(results[0].nodes[n].rotation.v, results[1].nodes[n].rotation.v);
    }
    EXPECT_EQ(results[0].scalars, results[1].scalars);
}

TEST_P(EveryKernel, LeavesALaneThatDoesNotMoveWhereItWas) {
    const std::vector<System> systems = systems_of(eight_arms());
    const auto pack = make_lane_pack(systems[0].shared_plan(), GetParam().name);
    load(*pack, systems);
    for (int i = 0; i < LanePack::width; ++i) pack->set_state(i, Arm::rest());
    std::array<bool, LanePack::width> moves = everyone;
    moves[5] = false;
    pack->factor({});
    pack->step(moves);
    State stays, goes;
    pack->copy_state(5, stays);
    pack->copy_state(4, goes);
    EXPECT_EQ(stays.scalars, Arm::rest().scalars);
    EXPECT_EQ(stays.nodes[3].position, Arm::rest().nodes[3].position);
    EXPECT_NE(goes.nodes[3].position, Arm::rest().nodes[3].position);
}

TEST_P(EveryKernel, SolvesWithHeldFreedomsStruckOut) {
    const std::vector<System> systems = systems_of(eight_arms());
    const auto pack = make_lane_pack(systems[0].shared_plan(), GetParam().name);
    load(*pack, systems);
    for (int i = 0; i < LanePack::width; ++i) pack->set_state(i, Arm::rest());
    const int held[] = {systems[0].numbering().first(ScalarId(1)), 7};
    pack->factor(held);
    const VecX load = VecX::LinSpaced(systems[0].numbering().size(), -1, 2);
    const auto x = pack->solve(load);
    for (int i = 0; i < LanePack::width; ++i) {
        const System& system = systems[static_cast<std::size_t>(i)];
        BlockMatrix K(system.shared_plan());
        BlockFactor factor(system.shared_plan());
        VecX g, sizes;
        assemble(system, Arm::rest(), g, sizes, K);
        ASSERT_TRUE(factor.factor(K, held));
        const VecX plain = factor.solve(load);
        EXPECT_LT((plain - x.col(i)).norm(), 1e-10 * plain.norm());
        EXPECT_EQ(x(7, i), 0);
    }
}

INSTANTIATE_TEST_SUITE_P(Lanes, EveryKernel, ::testing::ValuesIn(lane_kernels()), [](const auto& test) {
    std::string name = test.param.name;
    for (char& c : name)
        if (c == '-') c = '_';
    return name;
});

TEST(LanePack, RefusesAnElementThatLanesDoNotHold) {
    const System::Elements elements{std::make_shared<DeadForce>(Frame::on(NodeId(0)), Vec3(1, 0, 0))};
    const System system({1, 0, 0}, elements);
    const auto pack = make_lane_pack(system.shared_plan());
    LanePack::PerLane lanes;
    lanes.fill(&elements[0]);
    EXPECT_THROW(pack->set_element(0, lanes), std::invalid_argument);
}

TEST(LanePack, KeepsItsElementsSoThatNoOtherCanBeTakenForThem) {
    std::weak_ptr<const Element> seen;
    std::unique_ptr<LanePack> pack;
    {
        const std::vector<System> systems = systems_of(eight_arms());
        pack = make_lane_pack(systems[0].shared_plan());
        load(*pack, systems);
        seen = systems[3].elements()[2];
    }
    EXPECT_FALSE(seen.expired());
}

TEST(LanePack, TakesTheSameElementsBackWithTheirOwnData) {
    const std::vector<System> systems = systems_of(eight_arms());
    State moved_once[2];
    const auto pack = make_lane_pack(systems[0].shared_plan());
    for (State& result : moved_once) {
        load(*pack, systems);
        for (int i = 0; i < LanePack::width; ++i) pack->set_state(i, Arm::rest());
        pack->factor({});
        pack->step(everyone);
        pack->copy_state(2, result);
        pack->set_natural_length(5, 2, 100);
        pack->set_rest(6, 2, -1);
    }
    EXPECT_EQ(moved_once[0].scalars, moved_once[1].scalars);
    EXPECT_EQ(moved_once[0].nodes[3].position, moved_once[1].nodes[3].position);
}

TEST(LanePack, SaysWhichKernelsThereAre) {
    EXPECT_THROW((void)make_lane_pack(nullptr, "another"), std::runtime_error);
}

}  // namespace
}  // namespace limbwright::solver::lane_solver_test
