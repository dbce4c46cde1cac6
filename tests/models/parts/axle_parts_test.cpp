#include "models/parts/axle_parts.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::axle_parts_test {
namespace {

using solver::State;

struct Built {
    Builder builder;
    AxleParts parts;
    explicit Built(const Bow& bow, End end = End::top) : parts(add_axle(bow, bow.layout, end, builder)) {}
    [[nodiscard]] Vec3 place(const solver::Frame& frame) const { return builder.at_rest(frame).position; }
};

TEST(AxleParts, StandTheCamWhereTheSpacersPutIt) {
    Bow bow = testing::small_bow();
    bow.layout.spacers_top = {{1, 1}, {2.5, 1.5}};
    const Built top(bow), bottom(bow, End::bottom);
    EXPECT_DOUBLE_EQ(top.place(top.parts.cam).y(), 1);  // half of right less left, to the left
    EXPECT_DOUBLE_EQ(bottom.place(bottom.parts.cam).y(), 0);
}

TEST(AxleParts, HangYokeLegsAtTheAxlesEnds) {
    const Built built(testing::small_bow());
    EXPECT_DOUBLE_EQ(built.place(built.parts.ends[0]).y(), 41);
    EXPECT_DOUBLE_EQ(built.place(built.parts.ends[1]).y(), -41);
    EXPECT_DOUBLE_EQ(built.place(solver::Frame::on(built.parts.left)).y(), 26);
}

TEST(AxleParts, SeeTheCamFromTheArchersRight) {
    const Built built(testing::small_bow());
    const auto axis = [&](const Vec3& of_cam) {
        return Vec3(built.builder.at_rest(built.parts.cam).rotation * of_cam);
    };
    EXPECT_LT((axis(Vec3::UnitX()) - Vec3(1, 0, 0)).norm(), 1e-15);   // u toward the target
    EXPECT_LT((axis(Vec3::UnitY()) - Vec3(0, 0, 1)).norm(), 1e-15);   // v up
    EXPECT_LT((axis(Vec3::UnitZ()) - Vec3(0, -1, 0)).norm(), 1e-15);  // w to the right
}

TEST(AxleParts, TurnTheCamCounterClockwiseSeenFromTheRight) {
    const Built built(testing::small_bow());
    State state = built.builder.rest();
    state.at(*built.parts.turn) = 0.1;
    const Vec3 u = pose(built.parts.cam, state).rotation * Vec3(Vec3::UnitX());
    EXPECT_LT((u - Vec3(std::cos(0.1), 0, std::sin(0.1))).norm(), 1e-15);
    EXPECT_EQ(built.parts.draw_sense, 1);
    EXPECT_EQ(Built(testing::small_bow(), End::bottom).parts.draw_sense, -1);
}

TEST(AxleParts, AnIdlerHasNoTurnOfItsOwn) {
    Bow bow = testing::small_bow();
    bow.cables.system = CableSystem::single_cam;
    EXPECT_FALSE(Built(bow).parts.turn);
    EXPECT_TRUE(Built(bow, End::bottom).parts.turn);
}

TEST(AxleParts, HaveAStopOnlyWhereTheCamHasOne) {
    Bow bow = testing::small_bow();
    bow.cam_bottom.stop = 2;
    EXPECT_FALSE(Built(bow).parts.stop);
    EXPECT_TRUE(Built(bow, End::bottom).parts.stop);
}

TEST(AxleParts, KeepTheAxleInTheMiddleBetweenItsLimbTips) {
    const Built built(testing::small_bow());
    const solver::System system = built.builder.system();
    State state = built.builder.rest();
    const auto energy = [&] {
        double sum = 0;
        for (const auto& element : system.elements())
            if (dynamic_cast<const solver::Spring*>(element.get())) sum += element->energy(state);
        return sum;
    };
    state.at(built.parts.tip_turns[0]) = 0.2;
    state.at(built.parts.tip_turns[1]) = -0.2;
    EXPECT_EQ(energy(), 0);
    state.at(built.parts.tip_turns[1]) = 0.2;
    EXPECT_GT(energy(), 0);
}

TEST(AxleParts, StopsPushBackOnlyPastTheirMeetingInTheSenseOfTheDraw) {
    Bow bow = testing::small_bow();
    for (const End end : {End::top, End::bottom}) {
        const Built built(bow, end);
        const double sense = built.parts.draw_sense;
        const solver::Spring stop(
            std::vector{std::pair{*built.parts.turn, 1.}},
            stop_data(built.parts, end == End::top ? bow.cam_top : bow.cam_bottom, sense * 2));
        State state = built.builder.rest();
        state.at(*built.parts.turn) = sense * 1.9;
        EXPECT_EQ(stop.energy(state), 0);
        state.at(*built.parts.turn) = sense * 2.1;
        EXPECT_NEAR(stop.energy(state), 0.5 * bow.cam_top.stop_stiffness * 0.01, 1e-8);
    }
}

}  // namespace
}  // namespace limbwright::models::axle_parts_test
