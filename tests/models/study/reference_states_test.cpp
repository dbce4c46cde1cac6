#include "models/study/reference_states.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/strung.hpp"

namespace limbwright::models::reference_states_test {
namespace {

using solver::State;
using solver::VecX;

Study bolts() {
    Study study;
    study.ranges = {{"limb bolt, top", {0, 2, 0.25}}, {"guide, lateral", {-2, 2, 1}}};
    return study;
}

const StudyBase& base() {
    static const StudyBase made(testing::demo_bow("crossed"), bolts());
    return made;
}

double largest_distance(const State& a, const State& b) {
    double largest = 0;
    for (std::size_t i = 0; i < a.nodes.size(); ++i)
        largest = std::max(largest, (a.nodes[i].position - b.nodes[i].position).norm());
    return largest;
}

/// The brace of the layout with both settings at a share of their reach, by the plain engine.
State brace_at(double bolt, double guide) {
    Layout layout = base().today().bow.layout;
    layout.bolt_top = bolt;
    layout.guide_lateral = guide;
    const Stringing answer = string_up(assemble(base().today().bow.bow, layout), base().today().lengths);
    return std::get<StrungBow>(answer).brace.state;
}

TEST(StudyBase, StandsAtBraceAtPeakAndAtFullDraw) {
    ASSERT_EQ(base().stations().size(), 3u);
    EXPECT_FALSE(base().stations()[0].draw.has_value());
    EXPECT_EQ(base().peak(), 1u);
    EXPECT_DOUBLE_EQ(*base().stations()[2].draw, *full_draw(base().today().bow.bow));
    const Draw whole = draw(base().today());
    const auto most = std::max_element(whole.states.begin(), whole.states.end(),
                                       [](const auto& a, const auto& b) { return a.force < b.force; });
    EXPECT_DOUBLE_EQ(*base().stations()[1].draw, most->draw);
}

TEST(StudyBase, WithMoreStatesTheOthersLieEvenlyBetween) {
    Study study = bolts();
    study.states = 6;
    const StudyBase more(testing::demo_bow("crossed"), study);
    const double brace = -more.today().brace.state.at(more.today().bow.nock[0]);
    const double full = *more.stations().back().draw;
    ASSERT_EQ(more.stations().size(), 6u);  // four even steps, and the peak between them
    int even = 0;
    for (std::size_t k = 1; k < more.stations().size(); ++k) {
        const double share = (*more.stations()[k].draw - brace) / (full - brace);
        even += std::abs(4 * share - std::round(4 * share)) < 1e-9;
    }
    EXPECT_EQ(even, 4);
}

TEST(StudyBase, PredictsToSecondOrderInTheSettings) {
    const auto error = [](double share) {
        VecX point(2);
        point << 2 * share, 2 * share;
        return largest_distance(base().predicted(base().stations()[0], point),
                                brace_at(2 * share, 2 * share));
    };
    const double whole = error(1), half = error(0.5);
    const State today = base().stations()[0].state;
    EXPECT_LT(whole, 1e-2 * largest_distance(today, brace_at(2, 2)));
    // What is left is of third order: an eighth, but for the next order and the second differences' own
    // reach.
    EXPECT_LT(half, whole / 5);
}

TEST(StudyBase, OfNoChangePredictsTodaysState) {
    for (const StudyBase::Station& station : base().stations())
        EXPECT_EQ(largest_distance(base().predicted(station, VecX::Zero(2)), station.state), 0);
}

TEST(StudyBase, NeedsTheTangentWhereForgivenessIsRead) {
    EXPECT_FALSE(base().needs_yaw_torque_effect(0));
    EXPECT_FALSE(base().needs_yaw_torque_effect(1));
    EXPECT_TRUE(base().needs_yaw_torque_effect(2));
}

TEST(StudyBase, SaysWhyTodaysBowCannotBeStrung) {
    Bow bow = testing::demo_bow("crossed");
    bow.brace.axle_to_axle = 1500;
    try {
        const StudyBase impossible(bow, bolts());
        FAIL() << "a bow of 1.5 m axle-to-axle was strung";
    } catch (const std::runtime_error& error) {
        EXPECT_NE(std::string(error.what()).find("could not be strung as it is today"), std::string::npos);
    }
}

}  // namespace
}  // namespace limbwright::models::reference_states_test
