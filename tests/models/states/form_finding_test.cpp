#include "models/states/form_finding.hpp"

#include <gtest/gtest.h>

#include "models/states/internal_forces.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::form_finding_test {
namespace {

/// Tensions put into the cables of a bow, for its measures to see.
AssembledBow loaded(AssembledBow bow, const DeadStrung& strung) {
    const auto load = [&](const CablePart& part, double tension) {
        solver::Cable::Data data = bow.cable(part).data();
        data.natural_length = bow.cable(part).length(strung.state) / (1 + tension / data.stiffness);
        bow.system =
            bow.system.with(part.element, std::make_shared<const solver::Cable>(bow.cable(part).with(data)));
    };
    for (const CablePart& part : bow.string) load(part, strung.string_tension);
    const std::vector<CablePart> cables = main_cables(bow);
    for (std::size_t i = 0; i < cables.size(); ++i) load(cables[i], strung.cable_tensions[i]);
    return bow;
}

DeadStringing strung_to(const AssembledBow& bow, double axles) {
    return dead_stringing(
        bow, {[&](const DeadStrung& s) { return axle_to_axle(bow, s.state) - axles; }, "too long"});
}

DeadStrung dead_strung(const AssembledBow& bow, double axles) {
    DeadStringing answer = strung_to(bow, axles);
    if (const auto* why = std::get_if<std::string>(&answer)) throw std::runtime_error(*why);
    return std::get<DeadStrung>(std::move(answer));
}

TEST(DeadStringing, PullsTheAxlesToTheWantedDistance) {
    const AssembledBow bow = assemble(testing::small_uneven_bow());
    EXPECT_NEAR(axle_to_axle(bow, dead_strung(bow, 838).state), 838, 1e-3);  // its own tolerance
}

TEST(DeadStringing, LeavesTheCamsAtTheirMarksAndBalanced) {
    Bow b = testing::small_bow();
    b.brace.mark_top = 0.1;
    b.brace.mark_bottom = 0.05;
    const AssembledBow bow = assemble(b);
    const DeadStrung strung = dead_strung(bow, 838);
    EXPECT_NEAR(cam_turn(bow, End::top, strung.state), 0.1,
                1e-4);  // the axle rolls on by what is left of its limbs' way
    EXPECT_NEAR(cam_turn(bow, End::bottom, strung.state), 0.05, 1e-4);
    const AssembledBow with_tensions = loaded(bow, strung);
    for (const End end : {End::top, End::bottom}) {
        const CamLoad load = cam_load(with_tensions, end, strung.state);
        // About the axle, against tensions of hundreds of newtons on arms of tens of millimetres.
        EXPECT_NEAR(load.moment.y(), 0, 1e-3 * load.force.norm());
    }
}

TEST(DeadStringing, PullsWithEveryCable) {
    const AssembledBow bow = assemble(testing::small_bow());
    const DeadStrung strung = dead_strung(bow, 838);
    EXPECT_GT(strung.string_tension, 0);
    ASSERT_EQ(strung.cable_tensions.size(), 2u);
    for (const double tension : strung.cable_tensions) EXPECT_GT(tension, 0);
}

TEST(DeadStringing, SaysThatTheCamsCannotBeBalanced) {
    Bow b = testing::small_bow();
    // A take-up on the wrong side of its axle pays out, as the string does: nothing holds the cams back.
    b.cam_top.take_up->circle = Track::Circle{{-60, -7}, 45};
    b.cam_bottom.take_up->circle = Track::Circle{{-60, 7}, 45};
    const DeadStringing answer = strung_to(assemble(b), 838);
    const auto* why = std::get_if<std::string>(&answer);
    ASSERT_TRUE(why);
    EXPECT_NE(why->find("cannot be balanced"), std::string::npos) << *why;
}

TEST(DeadStringing, AnswersWithItsGoalsSentenceWhereTheUnstrungBowHasLessThanNothingMissing) {
    const DeadStringing answer = strung_to(assemble(testing::small_bow()), 2000);
    const auto* why = std::get_if<std::string>(&answer);
    ASSERT_TRUE(why);
    EXPECT_EQ(*why, "too long");
}

TEST(DeadStringing, CountsCablesWithoutTheirYokeLegs) {
    Bow b = testing::small_bow();
    b.cables.system = CableSystem::yoked;
    b.cables.yoke_leg = 110;
    EXPECT_EQ(main_cables(assemble(b)).size(), 2u);
}

}  // namespace
}  // namespace limbwright::models::form_finding_test
