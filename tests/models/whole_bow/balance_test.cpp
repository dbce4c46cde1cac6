#include <gtest/gtest.h>

#include <cmath>

#include "models/states/internal_forces.hpp"
#include "solver/system/assembly.hpp"
#include "tests/support/strung.hpp"

/// Statics of the whole bow by its parts' own forces: riser, axles and cams each stand still.
namespace limbwright::models::whole_bow_balance_test {
namespace {

using solver::Pose;
using solver::State;

/// Forces and moments about a point, all in the world.
struct Sum {
    Vec3 about = Vec3::Zero();
    Vec3 force = Vec3::Zero(), moment = Vec3::Zero();
    double largest = 0;  ///< of the single forces

    void add(const Vec3& at, const Vec3& f, const Vec3& m = Vec3::Zero()) {
        force += f;
        moment += (at - about).cross(f) + m;
        largest = std::max(largest, f.norm());
    }
};

/// What Newton leaves, of forces up to a thousand newtons on arms up to half a metre: places are rounded to
/// 1e-13 mm, and the riser's beams answer with 1e7 N/mm, a dozen of them together.
constexpr double force_accuracy = 2e-8, arm = 500;

solver::SectionForces section_forces(const AssembledBow& bow, std::size_t beam, std::size_t end,
                                     const State& state) {
    return static_cast<const solver::Beam&>(*bow.system.elements()[beam]).section_forces(state)[end];
}

/// Adds what the beyond side of a section carries over: of a root's limb on the riser, of an axle on a limb's
/// tip.
void add_section(Sum& sum, const AssembledBow& bow, const LimbRow& row, bool tip, const State& state,
                 double sense) {
    const Pose X = pose(tip ? row.sections.back() : row.sections.front(), state);
    const solver::SectionForces s =
        section_forces(bow, tip ? row.beams.back() : row.beams.front(), tip ? 1 : 0, state);
    sum.add(X.position, sense * Vec3(X.rotation * s.force), sense * Vec3(X.rotation * s.moment));
}

class BalanceOf : public ::testing::TestWithParam<const char*> {
protected:
    /// The demo bow made uneven in every way, under a hand that turns.
    [[nodiscard]] static Bow uneven(const std::string& name) {
        Bow bow = testing::demo_bow(name);
        bow.layout.pairing = {51, 48, 49, 50};
        bow.layout.guide_lateral = 1;
        bow.layout.guide_angle = 0.05;
        bow.layout.hand_yaw_torque = 800;
        bow.layout.hand_pitch_torque = -300;
        return bow;
    }
};
INSTANTIATE_TEST_SUITE_P(Demo, BalanceOf, ::testing::ValuesIn(testing::demo_bows),
                         [](const auto& name) { return std::string(name.param); });

TEST_P(BalanceOf, TheRiserHoldsBetweenLimbsCablesDrawForceAndHand) {
    const testing::Drawn d = testing::drawn(uneven(GetParam()), testing::in_states(9));
    const AssembledBow& bow = d.bow();
    for (const DrawState& s : d.draw.states) {
        Sum sum;
        for (const LimbParts& limbs : bow.limbs)
            for (const LimbRow& row : limbs.rows) add_section(sum, bow, row, false, s.state, 1);
        for (const CablePart& part : bow.all_cables()) {
            const solver::Cable& cable = bow.cable(part);
            for (std::size_t i = 1; i + 1 < cable.contacts().size(); ++i)
                if (!cable.contacts()[i].sheave)
                    sum.add(pose(cable.contacts()[i].frame, s.state).position, cable.pulls(s.state)[i].force);
        }
        // The grip answers the nocking point's three holds; the hand turns with its torques, roll held.
        const solver::VecX g = total_gradient(bow.system, s.state);
        const auto held = [&](solver::ScalarId id) { return g[bow.system.numbering().first(id)]; };
        const Vec3 on_nock(held(bow.nock[0]), held(bow.nock[1]), held(bow.nock[2]));
        sum.add(Vec3::Zero(), -on_nock);
        const double yaw = s.state.at(bow.riser.yaw);
        const Vec3 forward = bow_frame(bow, s.state).rotation * Vec3(Vec3::UnitX());
        // Torques of the hand, each the work per turn of its own hinge: hinges along Z, the yawed Y and the
        // riser's X.
        Eigen::Matrix3d hinges;
        hinges.row(0) = Vec3::UnitZ();
        hinges.row(1) = Vec3(-std::sin(yaw), std::cos(yaw), 0);
        hinges.row(2) = forward;
        const Vec3 torques(bow.layout.hand_yaw_torque, bow.layout.hand_pitch_torque, held(bow.riser.roll));
        sum.add(Vec3::Zero(), Vec3::Zero(), hinges.inverse() * torques);
        EXPECT_LT(sum.force.norm(), force_accuracy * sum.largest) << s.draw;
        EXPECT_LT(sum.moment.norm(), force_accuracy * sum.largest * arm) << s.draw;
        EXPECT_NEAR(-on_nock.x(), s.force, 1e-9 * (1 + s.force));
    }
}

TEST_P(BalanceOf, EachAxleHoldsBetweenItsLimbTipsItsCamAndItsYoke) {
    const testing::Drawn d = testing::drawn(uneven(GetParam()), testing::in_states(9));
    const AssembledBow& bow = d.bow();
    for (const DrawState& s : d.draw.states)
        for (std::size_t e = 0; e < 2; ++e) {
            const AxleParts& axle = bow.axles[e];
            Sum sum;
            sum.about = s.state.at(axle.middle).position;
            for (const std::size_t row : bow.limbs[e].tip_rows)
                add_section(sum, bow, bow.limbs[e].rows[row], true, s.state, -1);
            for (const CablePart& part : bow.all_cables()) {
                const solver::Cable& cable = bow.cable(part);
                for (std::size_t i = 0; i < cable.contacts().size(); ++i) {
                    const solver::NodeId node = cable.contacts()[i].frame.node;
                    if (node != axle.left && node != axle.middle && node != axle.right) continue;
                    const solver::Cable::Pull pull = cable.pulls(s.state)[i];
                    sum.add(pose(cable.contacts()[i].frame, s.state).position, pull.force, pull.moment);
                }
            }
            EXPECT_LT(sum.force.norm(), force_accuracy * sum.largest) << s.draw;
            // About the axle a stop may pass moments between cam and tips: those are no force of string or
            // limb here.
            const Vec3 along = s.state.at(axle.middle).rotation * Vec3(Vec3::UnitX());
            EXPECT_LT((sum.moment - sum.moment.dot(along) * along).norm(), force_accuracy * sum.largest * arm)
                << s.draw;
        }
}

TEST_P(BalanceOf, NoCamWantsToTurnBeforeItsStop) {
    const testing::Drawn d = testing::drawn(uneven(GetParam()), testing::in_states(9));
    for (const DrawState& s : d.draw.states)
        for (const End end : {End::top, End::bottom}) {
            const AxleParts& axle = d.bow().axle(end);
            if (axle.stop && d.bow().system.elements()[*axle.stop]->energy(s.state) > 0) continue;
            const CamLoad load = cam_load(d.bow(), end, s.state);
            const Vec3 along = bow_frame(d.bow(), s.state).rotation.inverse() *
                               Vec3(s.state.at(axle.middle).rotation * Vec3(Vec3::UnitX()));
            EXPECT_LT(std::abs(load.moment.dot(along)), force_accuracy * load.force.norm() * arm) << s.draw;
        }
}

/// Without a torque the force line runs from the nocking point through the pivot.
TEST_P(BalanceOf, NothingHoldsTheNockingPointSidewaysWithoutAHandTorque) {
    const testing::Drawn d = testing::drawn(testing::demo_bow(GetParam()), testing::in_states(9));
    for (const DrawState& s : d.draw.states) {
        const solver::VecX g = total_gradient(d.bow().system, s.state);
        for (const std::size_t i : {1u, 2u})
            EXPECT_NEAR(g[d.bow().system.numbering().first(d.bow().nock[i])], 0, 1e-6) << s.draw;  // N
    }
}

/// About Z: the torque of the hand and the nocking point's side force on the arm of the draw.
TEST(HandTorque, IsAnsweredSidewaysAtTheNockingPoint) {
    Bow bow = testing::small_uneven_bow();
    bow.layout.hand_yaw_torque = 1500;
    const testing::Drawn d = testing::drawn(bow);
    for (const DrawState& s : d.draw.states) {
        const solver::VecX g = total_gradient(d.bow().system, s.state);
        EXPECT_NEAR(g[d.bow().system.numbering().first(d.bow().nock[1])] * s.draw, 1500, 1e-3);
    }
}

/// Fully drawn under a hand's torque, strung with the lengths that the bow has without it.
testing::Drawn under_torque(double yaw, double pitch) {
    const Bow bow = testing::small_bow();
    static const NaturalLengths lengths = testing::strung(bow).lengths;
    Layout layout = bow.layout;
    layout.hand_yaw_torque = yaw;
    layout.hand_pitch_torque = pitch;
    return testing::drawn(testing::strung(string_up(assemble(bow, layout), lengths)));
}

TEST(HandTorque, FromTargetToLeftYawsTheBowToTheLeftAndTheNockingPointToTheLeftOfIt) {
    const testing::Drawn d = under_torque(1000, 0);
    for (const DrawState& s : d.draw.states) {
        EXPECT_GT(s.state.at(d.bow().riser.yaw), 0) << s.draw;
        EXPECT_GT(nocking_point(d.bow(), s.state).y(), 0) << s.draw;
    }
}

TEST(HandTorque, TheOtherWayRoundMovesASymmetricBowTheOtherWay) {
    const testing::Drawn left = under_torque(1000, 0), right = under_torque(-1000, 0);
    EXPECT_NEAR(left.full_state().at(left.bow().riser.yaw), -right.full_state().at(right.bow().riser.yaw),
                1e-9);
    EXPECT_NEAR(left.full("cam lean, top"), -right.full("cam lean, top"), 1e-6);
}

TEST(HandTorque, AboutTheLateralAxisPitchesTheBowItsOwnWay) {
    const testing::Drawn down = under_torque(0, 1000), none = under_torque(0, 0);
    for (std::size_t i = 0; i < none.draw.states.size(); ++i)
        EXPECT_GT(down.draw.states[i].state.at(down.bow().riser.pitch),
                  none.draw.states[i].state.at(none.bow().riser.pitch));
}

}  // namespace
}  // namespace limbwright::models::whole_bow_balance_test
