#include "models/states/draw_measures.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <set>

#include "tests/support/strung.hpp"

namespace limbwright::models::draw_measures_test {
namespace {

constexpr double degrees = 180 / std::numbers::pi;

const testing::Drawn& even_bow() {
    static const testing::Drawn bow = testing::drawn(testing::small_bow());
    return bow;
}
const testing::Drawn& uneven_bow() {
    static const testing::Drawn bow = testing::drawn(testing::small_uneven_bow(), testing::in_states(41));
    return bow;
}

TEST(DrawMeasures, HaveNamesAndUnitsOfTheirOwn) {
    std::set<std::string> names, ids;
    for (const Measure& m : draw_measures()) {
        EXPECT_TRUE(names.insert(m.name + m.unit).second) << m.name;
        EXPECT_TRUE(ids.insert(m.id).second) << m.name;
    }
}

TEST(DrawMeasures, TellWhatWasMeasuredAtBrace) {
    EXPECT_NEAR(even_bow().whole("axle-to-axle", "mm"), 838, 1e-6);
    EXPECT_NEAR(even_bow().whole("nocking-point height", "mm"), 20, 1e-6);
    EXPECT_NEAR(even_bow().whole("draw length", "in"), 600 / 25.4 + 1.75, 1e-12);
}

TEST(DrawMeasures, ReadPeakHoldingWeightAndLetOffFromTheStates) {
    testing::Drawn d = even_bow();
    d.draw.states.resize(3);
    const double forces[] = {0, 300, 60};
    for (std::size_t i = 0; i < 3; ++i) d.draw.states[i].force = forces[i];
    EXPECT_DOUBLE_EQ(d.whole("peak weight", "N"), 300);
    EXPECT_DOUBLE_EQ(d.whole("peak weight, pounds", "lbf"), 300 / 4.4482216152605);
    EXPECT_DOUBLE_EQ(d.whole("draw at peak", "mm"), d.draw.states[1].draw);
    EXPECT_DOUBLE_EQ(d.whole("holding weight", "N"), 60);
    EXPECT_DOUBLE_EQ(d.whole("let-off", "%"), 80);
}

/// A straightedge along a cam whose top leans right by θ passes H tan θ to the left of the axle at the
/// nocking point, H below it; a track to the left of the hub adds its offset over cos θ.
TEST(StraightedgeGap, OfALeanedCamIsItsHeightTimesTheLean) {
    const double theta = 0.01;
    Bow bow = testing::small_bow();
    bow.cam_top.string.lateral = bow.cam_bottom.string.lateral = 2;
    for (const End end : {End::top, End::bottom}) {
        AssembledBow assembled = assemble(bow);
        solver::Equilibrium brace;
        brace.state = assembled.rest;
        solver::Pose& axle = brace.state.at(assembled.axle(end).middle);
        axle.rotation = solver::exp<double>(Vec3(theta, 0, 0)) * axle.rotation;
        const double height = axle.position.z() - nocking_point(assembled, brace.state).z();
        DrawState rest;
        rest.state = brace.state;
        const testing::Drawn d{{std::move(assembled), std::move(brace), {}}, {{rest}, {}, {}}};
        EXPECT_NEAR(d.whole(end == End::top ? "straightedge gap, top" : "straightedge gap, bottom", "mm"),
                    height * std::tan(theta) + 2 / std::cos(theta), 1e-10);
    }
}

TEST(StraightedgeGap, OfASymmetricBowIsZero) {
    EXPECT_NEAR(even_bow().whole("straightedge gap, top", "mm"), 0, 1e-8);
    EXPECT_NEAR(even_bow().whole("straightedge gap, bottom", "mm"), 0, 1e-8);
}

TEST(PathSlope, OfASymmetricBowIsZeroSideways) {
    EXPECT_NEAR(even_bow().whole("path slope at brace, lateral", "deg"), 0, 1e-8);
}

TEST(PathSlope, IsTheAngleOfTheFirstStepAgainstTheLineToTheRest) {
    const testing::Drawn& d = uneven_bow();
    const Vec3 step =
        nocking_point(d.bow(), d.draw.states[0].state) - nocking_point(d.bow(), d.draw.states[1].state);
    const Vec3 line = d.bow().bow.shooter.rest - nocking_point(d.bow(), d.draw.states[0].state);
    const double up = std::atan(step.z() / step.x()) - std::atan(line.z() / line.x());
    EXPECT_NEAR(d.whole("path slope at brace, vertical", "deg"), up * degrees, 1e-9);
}

/// Against two draws under ± 1 N m of the hand: a difference whose own error is of third order in the torque.
TEST(Forgiveness, IsTheChangePerTorqueOfDrawsUnderTorque) {
    Bow bow = testing::small_uneven_bow();
    const testing::Drawn& none = uneven_bow();
    const auto under = [&](double torque) {
        Layout layout = bow.layout;
        layout.hand_yaw_torque = torque;
        return testing::drawn(testing::strung(string_up(assemble(bow, layout), none.strung.lengths)));
    };
    const testing::Drawn left = under(100), right = under(-100);  // N mm
    const auto place = [](const testing::Drawn& d) { return nocking_point(d.bow(), d.full_state()).y(); };
    const auto yaw = [&](const testing::Drawn& d) {
        const Vec3 line = bow_frame(d.bow(), d.full_state()).rotation *
                          Vec3(bow.shooter.rest - nocking_point(d.bow(), d.full_state()));
        return std::atan2(line.y(), line.x());
    };
    EXPECT_NEAR(
        none.whole("forgiveness, nock travel", "mm/(N m)") / (1000 * (place(left) - place(right)) / 200), 1,
        1e-4);
    EXPECT_NEAR(
        none.whole("forgiveness, arrow yaw", "deg/(N m)") / (1000 * degrees * (yaw(left) - yaw(right)) / 200),
        1, 1e-4);
}

}  // namespace
}  // namespace limbwright::models::draw_measures_test
