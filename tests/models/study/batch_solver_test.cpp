#include "models/study/batch_solver.hpp"
#include "models/study/reference_solver.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

#include "models/states/sensitivity_table.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::batch_solver_test {
namespace {

using Numbers = std::vector<std::int64_t>;
using Rows = std::vector<LayoutRow>;

/// The demo bow, its own draw in few states: it only says where the peak is. Of those that draw to their
/// stops, here short of them.
Bow quick(const std::string& name) {
    Bow bow = testing::demo_bow(name);
    bow.shooter.states = 9;
    if (!bow.shooter.draw_length) bow.shooter.draw_length = 680 + draw_length_beyond_pivot;
    return bow;
}

/// 12 pairings × 2 each of spacers, bolt, guide and the string's twist, and of a yoke leg's where there is
/// one.
Study small_study(const Bow& bow, LengthRule rule) {
    Study study;
    study.lengths = rule;
    study.limbs = {49, 50, 50, 52};
    study.ranges = {{"spacers, top", {-0.5, 0.5, 1}},
                    {"limb bolt, bottom", {0, 0.5, 0.5}},
                    {"guide, lateral", {-1, 1, 2}},
                    {"twist, string", {0, 2, 2}}};
    if (bow.cables.system != CableSystem::crossed)
        study.ranges.push_back({"twist, top yoke, left leg", {0, 2, 2}});
    study.aims = {{{"stored_energy", {}, DrawPlace::full_draw}},
                  {{"riser_twist", {}, DrawPlace::peak}},
                  {{"let_off", {}, DrawPlace::whole}}};
    return study;
}

/// One for each bow and rule in a test program.
const StudyBase& base_of(const std::string& name, LengthRule rule) {
    static std::map<std::pair<std::string, LengthRule>, StudyBase> made;
    const auto key = std::pair{name, rule};
    if (!made.contains(key)) {
        const Bow bow = quick(name);
        made.try_emplace(key, bow, small_study(bow, rule));
    }
    return made.at(key);
}

/// So many numbers spread over the product.
Numbers spread(const StudyBase& base, int count) {
    Numbers numbers;
    for (int i = 0; i < count; ++i) numbers.push_back(i * (base.product().size() - 1) / (count - 1));
    return numbers;
}

std::string text(const StudyBase& base, std::size_t column, std::int64_t number) {
    return "layout " + std::to_string(number) + ": " + in_words(base.columns()[column]);
}

/// Both stop where a step's decrement is a small share of the energy, and the bow is soft sideways: a newton-
/// millimetre of hand torque moves the nocking point by 0.05 mm. Seen: 2e-8.
constexpr double solved = 1e-7;
/// Kernels add in other orders. Seen: 2e-10.
constexpr double added_otherwise = 1e-9;

/// Of values below one it is absolute. Forgiveness is a difference over a small step and loses a digit.
double tolerance_of(const PlacedMeasure& column, double value, double tolerance) {
    const bool difference = column.measure.needs == Needs::yaw_torque_effect;
    return tolerance * (difference ? 10 : 1) * std::max(1., std::abs(value));
}

void expect_near(const StudyBase& base, const LayoutRow& row, const LayoutRow& wanted, double tolerance) {
    EXPECT_EQ(row.number, wanted.number);
    EXPECT_EQ(row.failure, wanted.failure);
    ASSERT_EQ(row.values.size(), base.columns().size());
    ASSERT_EQ(wanted.values.size(), base.columns().size());
    for (std::size_t c = 0; c < row.values.size(); ++c)
        EXPECT_NEAR(row.values[c], wanted.values[c],
                    tolerance_of(base.columns()[c], wanted.values[c], tolerance))
            << text(base, c, row.number);
}

void expect_same(const LayoutRow& row, const LayoutRow& wanted) {
    EXPECT_EQ(row.number, wanted.number);
    EXPECT_EQ(row.values, wanted.values) << "layout " << row.number;
    EXPECT_EQ(row.failure, wanted.failure);
}

double value(const StudyBase& base, const LayoutRow& row, const std::string& measure, DrawPlace at) {
    for (std::size_t c = 0; c < base.columns().size(); ++c)
        if (base.columns()[c].key() == MeasureKey{measure, at}) return row.values.at(c);
    throw std::runtime_error("no column " + measure);
}

std::vector<std::string> kernels_here() {
    std::vector<std::string> names;
    for (const solver::LaneKernel& kernel : solver::lane_kernels())
        if (kernel.runs_here) names.push_back(kernel.name);
    return names;
}

struct Case {
    std::string bow;
    LengthRule rule;
};
std::vector<Case> all_cases() {
    std::vector<Case> cases;
    for (const char* bow : testing::demo_bows)
        for (const LengthRule rule : {LengthRule::kept, LengthRule::re_timed}) cases.push_back({bow, rule});
    return cases;
}

class LayoutsOf : public ::testing::TestWithParam<Case> {
protected:
    const StudyBase& base_ = base_of(GetParam().bow, GetParam().rule);
};
INSTANTIATE_TEST_SUITE_P(Demo, LayoutsOf, ::testing::ValuesIn(all_cases()), [](const auto& which) {
    return which.param.bow + (which.param.rule == LengthRule::kept ? "_kept" : "_re_timed");
});

TEST_P(LayoutsOf, AreAsThePlainEngineSolvesThemFromCold) {
    LayoutSolver solver(base_);
    for (const LayoutRow& row : solver.solve(spread(base_, 3)))
        expect_near(base_, row, solve_cold(base_, row.number), solved);
    EXPECT_EQ(solver.counts().plain, 0);  // lanes did it
}

/// Lanes at the ends of a pack and in its middle, among other neighbours, and alone.
TEST_P(LayoutsOf, AreTheSameToTheLastBitInAnyCompany) {
    for (const std::string& kernel : kernels_here()) {
        LayoutSolver solver(base_, kernel);
        const Numbers numbers{0, 3, 7, 18, 60, 100, 140, 191};
        const Rows rows = solver.solve(numbers);
        ASSERT_EQ(rows.size(), numbers.size());
        Numbers turned = numbers;
        std::ranges::reverse(turned);
        turned[2] = 11;  // in place of 100
        const Rows others = solver.solve(turned);
        for (std::size_t i = 0; i < rows.size(); ++i)
            if (i != 5) expect_same(others[7 - i], rows[i]);
        expect_same(solver.solve(Numbers{100}).front(), rows[5]);
        expect_same(LayoutSolver(base_, kernel).solve(Numbers{18, 60}).back(), rows[4]);
    }
}

TEST_P(LayoutsOf, AgreeBetweenKernels) {
    const Numbers numbers = spread(base_, 8);
    const Rows plain = LayoutSolver(base_, "plain").solve(numbers);
    for (const std::string& kernel : kernels_here()) {
        const Rows rows = LayoutSolver(base_, kernel).solve(numbers);
        for (std::size_t i = 0; i < rows.size(); ++i) expect_near(base_, rows[i], plain[i], added_otherwise);
    }
}

TEST_P(LayoutsOf, ReTimedMeetWhatWasMeasuredAtBrace) {
    const Brace& brace = base_.today().bow.bow.brace;
    double largest = 0;
    for (const LayoutRow& row : LayoutSolver(base_).solve(spread(base_, 8))) {
        const double miss =
            std::max(std::abs(value(base_, row, "axle_to_axle", DrawPlace::whole) - brace.axle_to_axle),
                     std::abs(value(base_, row, "brace_height", DrawPlace::whole) - *brace.brace_height));
        largest = std::max(largest, miss);
    }
    if (GetParam().rule == LengthRule::re_timed)
        EXPECT_LT(largest, 1e-6);  // mm; the lengths are set until 1e-9 is left
    else
        EXPECT_GT(largest, 0.1);
}

/// Each range reaches the bow; with lengths re-timed the string's twist is taken up by its length.
TEST_P(LayoutsOf, AnswerEveryRange) {
    const Product& product = base_.product();
    const std::size_t ranges = product.ranges().size();
    Numbers numbers{0};
    for (std::size_t r = 0; r < ranges; ++r) numbers.push_back(std::int64_t{1} << r);  // the last one first
    const Rows rows = LayoutSolver(base_).solve(numbers);
    for (std::size_t r = 0; r < ranges; ++r) {
        double change = 0;
        for (std::size_t c = 0; c < base_.columns().size(); ++c)
            change = std::max(change, std::abs(rows[1 + r].values[c] - rows[0].values[c]));
        const std::string& setting = product.varied()[product.varied().size() - 1 - r].name;
        if (setting == "twist, string" && GetParam().rule == LengthRule::re_timed)
            EXPECT_LT(change, 500 * solved) << setting;  // of forgiveness, some 50 mm/(N m)
        else
            EXPECT_GT(change, 0.02) << setting;
    }
}

/// Limbs of very unequal numbers and cams as far aside as spacers put them: outside what today's slopes can
/// tell well, and then far outside.
class FarLayoutsOf : public ::testing::TestWithParam<Case> {};
INSTANTIATE_TEST_SUITE_P(Demo, FarLayoutsOf,
                         ::testing::Values(Case{"crossed", LengthRule::kept}, Case{"yoked", LengthRule::kept},
                                           Case{"mixed", LengthRule::re_timed},
                                           Case{"single_cam", LengthRule::re_timed}),
                         [](const auto& which) { return which.param.bow; });

TEST_P(FarLayoutsOf, AreAsThePlainEngineSolvesThemFromColdWhoeverDidIt) {
    for (const std::vector<double>& limbs : {std::vector<double>{47, 49, 51, 53}, {35, 45, 55, 65}}) {
        Study study;
        study.lengths = GetParam().rule;
        study.limbs = limbs;
        study.spacers = {{1.5, 4}, {2.5, 4}};
        const StudyBase base(quick(GetParam().bow), study);
        const Layout far = base.product().layout(0);
        ASSERT_EQ(far.pairing.top_left, limbs.front());
        ASSERT_TRUE(far.spacers_top.right.empty() && far.spacers_bottom.right.empty());
        LayoutSolver solver(base);
        const LayoutRow row = solver.solve(Numbers{0}).front();
        EXPECT_TRUE(limbs.front() == 35 || solver.counts().plain == 0);  // lanes come that far
        expect_near(base, row, solve_cold(base, 0), solved);
    }
}

/// One setting at a time by a tenth of a practical step, up and down: what is of third order is a hundredth
/// of what it is in a step.
class SmallStepsOf : public ::testing::TestWithParam<Case> {};
INSTANTIATE_TEST_SUITE_P(Demo, SmallStepsOf,
                         ::testing::Values(Case{"crossed", LengthRule::kept},
                                           Case{"mixed", LengthRule::re_timed}),
                         [](const auto& which) { return which.param.bow; });

TEST_P(SmallStepsOf, AreAsTheTableOfEffectsSays) {
    constexpr double share = 0.1;
    const Bow bow = quick(GetParam().bow);
    const std::vector<Setting> settings = settings_of(bow, thinnest_spacer(bow));
    Study study;
    study.lengths = GetParam().rule;
    std::int64_t middle = 0;
    for (const Setting& s : settings) {
        const double today = s.get(bow.layout), h = share * s.step;
        study.ranges.push_back({s.name, {today - h, today + h, h}});
        middle = 3 * middle + 1;
    }
    const StudyBase base(bow, study);
    const EffectsTable table = effects_table(base.today(), draw(base.today()), study.lengths, settings);
    LayoutSolver solver(base);
    std::int64_t stride = base.product().size();
    int compared = 0;
    for (std::size_t k = 0; k < settings.size(); ++k) {
        stride /= 3;
        const Rows rows = solver.solve(Numbers{middle + stride, middle - stride});
        for (std::size_t c = 0; c < base.columns().size(); ++c) {
            const Effect* effect = table.find(base.columns()[c].key());
            if (!effect) continue;
            ++compared;
            const double change = (rows[0].values.at(c) - rows[1].values.at(c)) / (2 * share);
            // 1e-4: what is left of states and of the differences in the table, over so short a step.
            EXPECT_NEAR(change, effect->change[k], 0.01 * std::abs(change) + 1e-4)
                << settings[k].name << ", " << text(base, c, middle);
        }
    }
    EXPECT_GT(compared, 10 * static_cast<int>(settings.size()));
}

/// Even numbers: string halves 260 mm too long. Odd ones: as today.
const StudyBase& slack() {
    static const StudyBase base = [] {
        Study study;
        study.limbs = {51, 49, 50, 50};
        study.ranges = {{"twist, string", {-1300, 0, 1300}}};
        return StudyBase(quick("crossed"), study);
    }();
    return base;
}

TEST(LayoutSolver, SaysWhyALayoutCouldNotBeStrung) {
    const LayoutRow row = LayoutSolver(slack()).solve(Numbers{0}).front();
    EXPECT_EQ(row.number, 0);
    EXPECT_TRUE(row.values.empty());
    EXPECT_NE(row.failure.find("the string is longer than"), std::string::npos) << row.failure;
    EXPECT_EQ(row.failure, solve_cold(slack(), 0).failure);
}

TEST(LayoutSolver, LeavesTheNeighboursOfALayoutThatFailsUntouched) {
    for (const std::string& kernel : kernels_here()) {
        LayoutSolver solver(slack(), kernel);
        const Rows good = solver.solve(Numbers{1, 3, 5, 7, 9});
        const Rows mixed = solver.solve(Numbers{1, 0, 5, 2, 9});
        for (const std::size_t i : {1u, 3u}) EXPECT_FALSE(mixed[i].failure.empty());
        for (const std::size_t i : {0u, 2u, 4u}) expect_same(mixed[i], good[i]);
        // Nor does the lane in which it failed remember it.
        expect_same(solver.solve(Numbers{1, 3}).back(), good[1]);
    }
}

TEST(LayoutSolver, CountsWhatItDid) {
    LayoutSolver solver(slack());
    (void)solver.solve(Numbers{1, 3, 5});
    EXPECT_EQ(solver.counts().layouts, 3);
    EXPECT_EQ(solver.counts().plain, 0);
    EXPECT_EQ(solver.counts().failed, 0);
    EXPECT_GE(solver.counts().iterations, 3);  // at each of three states
    const SolveCounts before = solver.counts();
    (void)solver.solve(Numbers{0, 1});
    EXPECT_EQ(solver.counts().layouts, 5);
    EXPECT_EQ(solver.counts().failed, 1);
    EXPECT_LE(solver.counts().failed, solver.counts().layouts);
    EXPECT_GT(solver.counts().iterations, before.iterations);
    SolveCounts sum = before;
    sum += solver.counts();
    EXPECT_EQ(sum.layouts, 8);
    EXPECT_EQ(sum.iterations, before.iterations + solver.counts().iterations);
    EXPECT_EQ(sum.failed, 1);
    EXPECT_EQ(sum.plain, solver.counts().plain);
}

TEST(LayoutSolver, OfNoLayoutsGivesNoRows) {
    LayoutSolver solver(base_of("crossed", LengthRule::kept));
    EXPECT_TRUE(solver.solve({}).empty());
    EXPECT_EQ(solver.counts().layouts, 0);
}

/// Today's layout among those of a study.
TEST(LayoutSolver, SolvesTodaysLayoutAsTodaysBow) {
    const Bow bow = quick("crossed");
    Study study;
    study.ranges = {{"guide, lateral", {0, 1, 1}}};
    const StudyBase base(bow, study);
    const LayoutRow row = LayoutSolver(base).solve(Numbers{0}).front();
    const testing::Drawn today = testing::drawn(bow);
    for (const auto& [measure, name] : {std::pair{"lean_top", "cam lean, top"},
                                        {"toe_bottom", "cam toe, bottom"},
                                        {"draw_force", "draw force"},
                                        {"nock_travel_vertical", "nock travel, vertical"}}) {
        const double wanted = today.full(name);
        EXPECT_NEAR(value(base, row, measure, DrawPlace::full_draw), wanted, solved * std::max(1., wanted));
    }
    EXPECT_NEAR(value(base, row, "draw_force", DrawPlace::peak), today.whole("peak weight", "N"), 1e-4);
}

/// A draw that ends before the peak: its last state is full draw and the largest force in one.
TEST(LayoutSolver, ReadsBothPlacesOffTheLastStateWhereTheForceOnlyRises) {
    Bow bow = testing::small_bow();
    bow.shooter.draw_length = 380 + draw_length_beyond_pivot;
    Study study;
    study.ranges = {{"guide, lateral", {0, 1, 1}}};
    const StudyBase base(bow, study);
    ASSERT_EQ(base.peak(), base.stations().size() - 1);
    expect_near(base, LayoutSolver(base).solve(Numbers{1}).front(), solve_cold(base, 1), solved);
}

/// A state does not depend on the way to it.
TEST(LayoutSolver, GivesTheSameWithMoreStatesOnTheWay) {
    const StudyBase& base = base_of("crossed", LengthRule::kept);
    const Bow bow = quick("crossed");
    Study study = small_study(bow, LengthRule::kept);
    study.states = 6;
    const StudyBase finer(bow, study);
    EXPECT_GT(finer.stations().size(), base.stations().size());
    EXPECT_TRUE(
        std::ranges::is_sorted(finer.stations(), {}, [](const auto& s) { return s.draw.value_or(0); }));
    ASSERT_EQ(*finer.stations()[finer.peak()].draw, *base.stations()[base.peak()].draw);
    const Rows rows = LayoutSolver(base).solve(spread(base, 8)),
               fine = LayoutSolver(finer).solve(spread(base, 8));
    for (std::size_t i = 0; i < rows.size(); ++i)
        for (std::size_t c = 0; c < base.columns().size(); ++c) {
            if (base.columns()[c].measure.id == "let_off") continue;  // of the largest force of the states
            EXPECT_NEAR(fine[i].values[c], rows[i].values[c],
                        tolerance_of(base.columns()[c], rows[i].values[c], solved))
                << text(base, c, rows[i].number);
        }
}

/// At the wall, where one layout's stop meets and another's does not: lanes mostly leave these to the plain
/// engine.
TEST(LayoutSolver, SolvesABowThatDrawsToItsStops) {
    Bow bow = quick("yoked");
    bow.shooter.draw_length.reset();
    Study study;
    study.ranges = {{"limb bolt, bottom", {-1, 1, 1}}};
    study.aims = {{{"turn_to_stop_top", {}, DrawPlace::full_draw}}};
    const StudyBase base(bow, study);
    const Rows rows = LayoutSolver(base).solve(Numbers{0, 1, 2});
    for (const LayoutRow& row : rows) expect_near(base, row, solve_cold(base, row.number), solved);
    EXPECT_LT(value(base, rows[0], "turn_to_stop_top", DrawPlace::full_draw), -0.005);
    EXPECT_GT(value(base, rows[2], "turn_to_stop_top", DrawPlace::full_draw), 0.1);
}

std::string why_not(const Bow& bow) {
    try {
        const StudyBase base(bow, {});
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "";
}

TEST(StudyBase, OfABowThatCannotBeStrungSaysSo) {
    Bow bow = testing::small_bow();
    bow.brace.axle_to_axle = 1200;
    EXPECT_NE(why_not(bow).find("could not be strung as it is today"), std::string::npos) << why_not(bow);
}

TEST(StudyBase, OfABowThatCannotBeDrawnSaysSo) {
    Bow bow = testing::small_bow();
    bow.brace.axle_to_axle = 300;
    EXPECT_NE(why_not(bow).find("cannot be drawn"), std::string::npos) << why_not(bow);
}

/// Cams that part: today's states lead to a stable state, but not always to the one that a draw leads to.
TEST(LayoutSolverOfPartingCams, EndsInTheStatesThatADrawLeadsTo) {
    const Bow bow = read_bow(std::string(SOURCE_DIR) + "/tests/support/bows/parting.toml");
    Study study;
    study.states = 3;
    study.ranges = {{"guide, lateral", {-1, 1, 1}}, {"limb bolt, bottom", {0, 4, 4}}};
    study.aims = {{{"cam_turn_top", {}, DrawPlace::full_draw}}};
    const StudyBase base(bow, study);
    LayoutSolver solver(base);
    Numbers all(static_cast<std::size_t>(base.product().size()));
    std::iota(all.begin(), all.end(), 0);
    for (const LayoutRow& row : solver.solve(all)) {
        const StrungBow strung = testing::strung(
            string_up(assemble(bow, base.product().layout(row.number)), base.today().lengths));
        const DrawState full =
            testing::whole(draw(strung, testing::draw_to(*base.stations().back().draw, 81))).states.back();
        EXPECT_NEAR(value(base, row, "cam_turn_top", DrawPlace::full_draw),
                    cam_turn(strung.bow, End::top, full.state) * 180 / std::numbers::pi, 1e-4)
            << "layout " << row.number;  // deg; branches are 80 deg apart
    }
}

}  // namespace
}  // namespace limbwright::models::batch_solver_test
