#include "models/parts/assembled_bow.hpp"

#include <gtest/gtest.h>

#include <set>

#include "solver/system/assembly.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::assembled_bow_test {
namespace {

using solver::Pose;
using solver::State;

TEST(AssembledBow, IsStressFreeAtRestButForItsCables) {
    const AssembledBow bow = assemble(testing::small_uneven_bow());
    double energy = 0;
    for (const auto& element : bow.system.elements())
        if (!dynamic_cast<const solver::Cable*>(element.get())) energy += element->energy(bow.rest);
    EXPECT_LT(std::abs(energy), 1e-18);
}

TEST(AssembledBow, StandsUprightAtThePivotAtRest) {
    const AssembledBow bow = assemble(testing::small_bow());
    EXPECT_EQ(bow_frame(bow, bow.rest).position, Vec3(0, 0, 0));
    EXPECT_NEAR(axle_roll(bow, End::top, bow.rest), 0, 1e-15);
    EXPECT_NEAR(cam_turn(bow, End::bottom, bow.rest), 0, 1e-15);
    const double reach = 2 * (300 + 320 * std::cos(testing::small_bow().pocket_top.angle));
    EXPECT_NEAR(axle_to_axle(bow, bow.rest), reach, 1e-10);
}

TEST(AssembledBow, CountsACamsTurnWithTheDrawPositiveAtBothEnds) {
    const AssembledBow bow = assemble(testing::small_bow());
    for (const End end : {End::top, End::bottom}) {
        State state = bow.rest;
        state.at(*bow.axle(end).turn) = bow.axle(end).draw_sense * 0.5;
        EXPECT_NEAR(cam_turn(bow, end, state), 0.5, 1e-15);
    }
}

TEST(AssembledBow, SeesACamThatOnlyRollsWithItsAxleAsTurned) {
    const AssembledBow bow = assemble(testing::small_bow());
    State state = bow.rest;
    Pose& axle = state.at(bow.axles[0].middle);
    axle.rotation =
        solver::exp<double>(Vec3(-0.3 * Vec3::UnitY())) * axle.rotation;  // counter-clockwise from the right
    EXPECT_NEAR(axle_roll(bow, End::top, state), 0.3, 1e-14);
    EXPECT_NEAR(cam_turn(bow, End::top, state), 0.3, 1e-14);
}

TEST(AssembledBow, GivesTheNockingPointInTheRisersFrame) {
    const AssembledBow bow = assemble(testing::small_bow());
    State state = bow.rest;
    state.at(bow.riser.yaw) = 0.1;
    for (int i = 0; i < 3; ++i) state.at(bow.nock[static_cast<std::size_t>(i)]) = i == 0 ? -200 : 0;
    EXPECT_LT((nocking_point(bow, state) - 200 * Vec3(-std::cos(0.1), std::sin(0.1), 0)).norm(), 1e-12);
}

TEST(AssembledBow, NamesThePartOfEveryFreedom) {
    Bow b = testing::small_bow();
    b.cables.system = CableSystem::yoked;
    b.cables.yoke_leg = 110;
    const AssembledBow bow = assemble(b);
    const solver::Numbering& n = bow.system.numbering();
    std::set<std::string> names;
    for (int f = 0; f < n.used(); ++f) names.insert(bow.part_of_freedom(f));
    for (const char* name : {"grip", "nocking point", "cable guide's slide", "top cam", "bottom cam",
                             "top axle", "bottom axle", "top right limb's tip", "riser", "yoke point",
                             "top left limb, section 3 of 6", "bottom right limb, section 5 of 6"})
        EXPECT_TRUE(names.contains(name)) << name;
    EXPECT_FALSE(names.contains("no part"));
    EXPECT_FALSE(names.contains("limb pocket"));  // this bow has no soft pocket
    EXPECT_EQ(bow.part_of_freedom(-1), "no part");
}

TEST(AssembledBow, OfTheMirroredBowIsTheMirrorImage) {
    const Bow b = testing::small_uneven_bow();
    const AssembledBow bow = assemble(b), other = assemble(mirrored(b));
    const auto flipped = [](const Vec3& v) { return Vec3(v.x(), -v.y(), v.z()); };
    for (std::size_t e = 0; e < 2; ++e) {
        const Vec3 cam = pose(bow.axles[e].cam, bow.rest).position;
        EXPECT_LT((pose(other.axles[e].cam, other.rest).position - flipped(cam)).norm(), 1e-12);
        EXPECT_LT((pose(*other.guide.eyes[e], other.rest).position -
                   flipped(pose(*bow.guide.eyes[e], bow.rest).position))
                      .norm(),
                  1e-12);
    }
    EXPECT_DOUBLE_EQ(other.limbs[0].rows[1].stiffness.moduli.young,
                     bow.limbs[0].rows[0].stiffness.moduli.young);
}

TEST(AssembledBow, KeepsTheOrderOfFreedomsWhateverTheLayout) {
    const Bow b = testing::small_bow();
    Layout layout = b.layout;
    layout.pairing.top_left = 55;
    layout.spacers_top = {{2.5, 2.5}, {1.5, 1.5}};
    layout.guide_lateral = 3;
    const AssembledBow one = assemble(b), other = assemble(b, layout);
    EXPECT_EQ(one.system.numbering().used(), other.system.numbering().used());
    ASSERT_EQ(one.system.elements().size(), other.system.elements().size());
    for (std::size_t i = 0; i < one.system.elements().size(); ++i)
        EXPECT_EQ(one.system.elements()[i]->touches(), other.system.elements()[i]->touches());
}

TEST(AssembledBow, SaysThatPointsMakeNoGroove) {
    Bow bow = testing::small_bow();
    bow.cam_top.string.circle.reset();
    bow.cam_top.string.traced =
        Track::Traced{"dented.csv", {{50, 0}, {10, 10}, {0, 50}, {-10, 10}, {-50, 0}, {0, -50}}};
    EXPECT_THROW(static_cast<void>(assemble(bow)), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::models::assembled_bow_test
