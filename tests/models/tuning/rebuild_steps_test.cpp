#include "models/tuning/rebuild_steps.hpp"

#include <gtest/gtest.h>

#include <random>

#include "tests/support/strung.hpp"

namespace limbwright::models::rebuild_steps_test {
namespace {

Bow bow_with(LimbKind kind) {
    Bow bow = testing::small_bow();
    bow.limb.kind = kind;
    bow.cables.system = CableSystem::yoked;
    return bow;
}

/// Any layout at all: it is put together, not strung.
Layout random_layout(std::mt19937& random, const Bow& bow) {
    const auto one_of = [&](std::initializer_list<double> choices) {
        return choices.begin()[std::uniform_int_distribution<std::size_t>(0, choices.size() - 1)(random)];
    };
    Layout l;
    for (SpacerStacks* stacks : {&l.spacers_top, &l.spacers_bottom})
        for (std::vector<double>* stack : {&stacks->left, &stacks->right})
            for (int n = static_cast<int>(one_of({0, 1, 2})); n > 0; --n)
                stack->push_back(one_of({0.5, 1.5, 2.5}));
    for (const Setting& setting : settings_of(bow))
        if (setting.work == Work::limbs)
            setting.set(l, one_of({48, 49, 50, 51}));
        else if (setting.work != Work::spacers)
            setting.set(l, one_of({0, 0, 0.5, 1.25, 2}));
    return l;
}

std::vector<double> numbers_of(const Bow& bow, const Layout& layout) {
    std::vector<double> numbers;
    for (const Setting& setting : settings_of(bow)) numbers.push_back(setting.get(layout));
    return numbers;
}

std::vector<Step> steps(const Layout& from, const Layout& to, LengthRule rule = LengthRule::kept) {
    return bench_steps(testing::small_bow(), from, to, rule);
}
Layout today() {
    return testing::small_bow().layout;
}
std::vector<StepKind> kinds(const std::vector<Step>& all) {
    std::vector<StepKind> kinds;
    for (const Step& step : all) kinds.push_back(step.kind);
    return kinds;
}

TEST(BenchSteps, AppliedToOneLayoutGiveTheOtherExactly) {
    std::mt19937 random(5);
    for (const LimbKind kind : {LimbKind::split, LimbKind::solid})
        for (int pair = 0; pair < 500; ++pair) {
            const Bow bow = bow_with(kind);
            const Layout from = random_layout(random, bow), to = random_layout(random, bow);
            Layout layout = from;
            for (const Step& step : bench_steps(bow, from, to, LengthRule::re_timed))
                apply(bow, step, layout);
            EXPECT_EQ(numbers_of(bow, layout), numbers_of(bow, to)) << "pair " << pair;
            EXPECT_EQ(layout.spacers_top.left, to.spacers_top.left);
            EXPECT_EQ(layout.spacers_top.right, to.spacers_top.right);
            EXPECT_EQ(layout.spacers_bottom.left, to.spacers_bottom.left);
            EXPECT_EQ(layout.spacers_bottom.right, to.spacers_bottom.right);
        }
}

/// Nothing but what differs is touched, and no pocket is filled twice: `apply` would throw.
TEST(BenchSteps, TouchLimbsSpacersAndTwistsOnlyInThePressAndLimbsOnlyWithTheAxleOut) {
    std::mt19937 random(6);
    for (int pair = 0; pair < 200; ++pair) {
        const Bow bow = bow_with(LimbKind::split);
        const Layout from = random_layout(random, bow), to = random_layout(random, bow);
        bool press = false;
        std::array<bool, 2> axle_out{};
        for (const Step& step : bench_steps(bow, from, to, LengthRule::kept)) {
            if (step.kind == StepKind::press_on) press = true;
            if (step.kind == StepKind::press_off) press = false;
            if (step.kind == StepKind::axle_out) axle_out[index(step.end)] = true;
            if (step.kind == StepKind::axle_in) axle_out[index(step.end)] = false;
            const bool limb = step.kind == StepKind::limb_out || step.kind == StepKind::limb_in;
            if (limb || step.kind == StepKind::spacers) {
                EXPECT_TRUE(axle_out[index(step.end)]) << step.text;
            }
            if (limb || step.kind == StepKind::spacers || step.setting.starts_with("twist_")) {
                EXPECT_TRUE(press) << step.text;
            }
        }
        EXPECT_FALSE(press || axle_out[0] || axle_out[1]);
    }
}

TEST(BenchSteps, OfNoChangeAreToWriteDownAndToMeasure) {
    EXPECT_EQ(kinds(steps(today(), today())),
              (std::vector<StepKind>{StepKind::write_down, StepKind::measure}));
}

TEST(BenchSteps, ThatAKeyDoesNeedNoPress) {
    Layout to = today();
    to.guide_lateral = -2.5;
    to.moved["rest_lateral"] = 0.5;
    const std::vector<Step> all = steps(today(), to);
    EXPECT_EQ(kinds(all),
              (std::vector<StepKind>{StepKind::write_down, StepKind::set, StepKind::set, StepKind::measure}));
    EXPECT_EQ(all[1].text, "Move the cable guide 2.5 mm right.");
    EXPECT_EQ(all[2].text, "Move the arrow rest 0.5 mm left.");
}

TEST(BenchSteps, SayWhichLimbGoesFromWhereToWhere) {
    Layout from = today(), to = today();
    from.pairing = {51, 49, 50, 50};
    to.pairing = {49, 51, 50, 48};
    const std::vector<Step> all = steps(from, to, LengthRule::re_timed);
    std::vector<std::string> limbs;
    for (const Step& step : all)
        if (step.kind == StepKind::limb_out || step.kind == StepKind::limb_in) limbs.push_back(step.text);
    EXPECT_EQ(limbs,
              (std::vector<std::string>{"Take limb 51 out of the top left pocket.",
                                        "Take limb 49 out of the top right pocket.",
                                        "Take limb 50 out of the bottom right pocket.",
                                        "Put limb 49, from the top right pocket, into the top left pocket.",
                                        "Put limb 51, from the top left pocket, into the top right pocket.",
                                        "Put limb 48, from the shelf, into the bottom right pocket."}));
    const std::vector<StepKind> order = kinds(all);
    EXPECT_NE(std::ranges::find(order, StepKind::timing), order.end());
}

TEST(BenchSteps, SayWhichSpacersStandOnEachSideOfACam) {
    Layout to = today();
    to.spacers_top = {{1.5, 1.5}, {2.5, 2.5}};
    to.spacers_bottom.left = {};
    std::vector<std::string> spacers;
    for (const Step& step : steps(today(), to))
        if (step.kind == StepKind::spacers) spacers.push_back(step.text);
    EXPECT_EQ(spacers, (std::vector<std::string>{"Top cam, left side: spacers 1.5 + 1.5 mm.",
                                                 "Top cam, right side: spacers 2.5 + 2.5 mm.",
                                                 "Bottom cam, left side: no spacer."}));
}

TEST(BenchSteps, CallAYokeByItsAxle) {
    const Bow bow = testing::demo_bow("yoked");
    const Layout from = bow.layout;
    Layout to = from;
    to.twist_yoke_left = {1, -2};
    const std::vector<Step> all = bench_steps(bow, from, to, LengthRule::kept);
    EXPECT_EQ(all[2].text, "Turn the left leg of the bottom yoke 1 turn shorter.");
    EXPECT_EQ(all[3].text, "Turn the left leg of the top yoke 2 turns longer.");
}

TEST(BenchSteps, RefuseALimbForAFullPocket) {
    Layout tune = today();
    Step step;
    step.kind = StepKind::limb_in;
    step.to = 52;
    step.flank = Flank::left;
    EXPECT_THROW(apply(testing::small_bow(), step, tune), std::logic_error);
}

}  // namespace
}  // namespace limbwright::models::rebuild_steps_test
