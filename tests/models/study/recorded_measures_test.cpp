#include "models/study/recorded_measures.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/strung.hpp"

namespace limbwright::models::recorded_measures_test {
namespace {

using Columns = std::vector<PlacedMeasure>;

const AssembledBow& bow() {
    return testing::uneven_bow().bow();
}

Aim aim(const std::string& measure, DrawPlace at, const std::string& less = {}) {
    return {{measure, less, at}, Wish::least};
}
Limit limit(const std::string& measure, DrawPlace at) {
    return {{measure, {}, at}, 0};
}

std::ptrdiff_t count(const Columns& columns, const std::string& measure, DrawPlace at) {
    return std::ranges::count_if(columns, [&](const PlacedMeasure& c) {
        return c.key() == MeasureKey{measure, at};
    });
}

PlacedMeasure placed(const std::string& measure, DrawPlace at) {
    return *find(measure_table(bow()), {measure, at});
}

std::vector<double> read(const Columns& columns, const ShortDraw& states) {
    std::vector<double> values;
    for (const PlacedMeasure& column : columns) values.push_back(value(column, bow(), states));
    return values;
}

/// The uneven bow's draw as a study keeps it: brace, the state of the largest force, full draw.
struct Short {
    std::size_t peak = 0, full = 0;  ///< in the long draw
    ShortDraw states;
};
Short short_draw() {
    const Draw& draw = testing::uneven_bow().draw;
    Short s;
    s.full = draw.states.size() - 1;
    for (std::size_t i = 0; i <= s.full; ++i)
        if (draw.states[i].force > draw.states[s.peak].force) s.peak = i;
    s.states.draw.states = {draw.states[0], draw.states[s.peak], draw.states[s.full]};
    s.states.peak = 1;
    return s;
}

TEST(StudyColumns, HoldWhatTheAimsAndLimitsAskFor) {
    Study study;
    study.aims = {aim("riser_twist", DrawPlace::peak), aim("let_off", DrawPlace::whole)};
    study.limits = {limit("clearance", DrawPlace::full_draw)};
    const Columns columns = columns_of(study, bow());
    EXPECT_EQ(count(columns, "riser_twist", DrawPlace::peak), 1);
    EXPECT_EQ(count(columns, "riser_twist", DrawPlace::full_draw), 0);
    EXPECT_EQ(count(columns, "let_off", DrawPlace::whole), 1);
    EXPECT_EQ(count(columns, "clearance", DrawPlace::full_draw), 1);
}

TEST(StudyColumns, HoldBothMeasuresOfADifference) {
    Study study;
    study.aims = {aim("bearing_moment_top", DrawPlace::brace, "bearing_moment_bottom")};
    const Columns columns = columns_of(study, bow());
    EXPECT_EQ(count(columns, "bearing_moment_top", DrawPlace::brace), 1);
    EXPECT_EQ(count(columns, "bearing_moment_bottom", DrawPlace::brace), 1);
}

TEST(StudyColumns, StandOnceEachHoweverOftenTheyAreAskedFor) {
    Study study;
    study.aims = {aim("riser_twist", DrawPlace::peak), aim("riser_twist", DrawPlace::peak),
                  aim("lean_top", DrawPlace::full_draw, "lean_bottom")};
    study.limits = {limit("riser_twist", DrawPlace::peak), limit("axle_to_axle", DrawPlace::whole)};
    const Columns columns = columns_of(study, bow());
    for (const PlacedMeasure& column : columns)
        EXPECT_EQ(count(columns, column.measure.id, column.at), 1) << in_words(column);
    EXPECT_EQ(count(columns, "axle_to_axle", DrawPlace::whole), 1);
}

TEST(StudyColumns, WithoutAimsAreWhatATunerLooksAt) {
    const Columns columns = columns_of({}, bow());
    for (const DrawPlace at : {DrawPlace::brace, DrawPlace::full_draw})
        for (const char* measure : {"lean_top", "lean_bottom"})
            EXPECT_EQ(count(columns, measure, at), 1) << measure;
    EXPECT_EQ(count(columns, "draw_force", DrawPlace::peak), 1);
    EXPECT_EQ(count(columns, "forgiveness_nock_travel", DrawPlace::full_draw), 1);
    EXPECT_EQ(count(columns, "brace_height", DrawPlace::whole), 1);
}

TEST(StudyColumns, LeaveOutWhatTheBowDoesNotHave) {
    const AssembledBow single = assemble(testing::demo_bow("single_cam"));
    const Columns columns = columns_of({}, single);
    // With an idler there is no second cam to be timed.
    EXPECT_EQ(count(columns, "timing_turns", DrawPlace::full_draw), 0);
    EXPECT_EQ(count(columns_of({}, bow()), "timing_turns", DrawPlace::full_draw), 1);
}

TEST(StudyColumns, HaveTheUnitsOfTheirMeasures) {
    Study study;
    study.aims = {aim("stored_energy", DrawPlace::full_draw), aim("peak_weight", DrawPlace::whole)};
    const Columns columns = columns_of(study, bow());
    const auto unit = [&](const std::string& measure) {
        return std::ranges::find(columns, measure, [](const auto& c) { return c.measure.id; })->measure.unit;
    };
    EXPECT_EQ(unit("lean_top"), "deg");
    EXPECT_EQ(unit("stored_energy"), "J");
    EXPECT_EQ(unit("peak_weight"), "N");
}

/// Every measure of a state that needs no whole draw, at every place, against the long draw's tables.
TEST(ShortDraw, ReadsStatesAsTheTableOfMeasuresDoes) {
    const Short s = short_draw();
    Columns columns;
    std::vector<double> wanted;
    for (const Measure& m : short_draw_measures(bow()).states) {
        for (const auto& [at, index] :
             {std::pair{DrawPlace::brace, std::size_t{0}}, std::pair{DrawPlace::peak, s.peak},
              std::pair{DrawPlace::full_draw, s.full}}) {
            columns.push_back({m, at});
            wanted.push_back(m.value({bow(), testing::uneven_bow().draw, index, 0}));
        }
    }
    const std::vector<double> values = read(columns, s.states);
    ASSERT_EQ(values.size(), wanted.size());
    for (std::size_t i = 0; i < values.size(); ++i)
        EXPECT_TRUE(values[i] == wanted[i] || (std::isnan(values[i]) && std::isnan(wanted[i])))
            << in_words(columns[i]) << ": " << values[i] << " and " << wanted[i];
}

TEST(ShortDraw, ReadsTheDrawAsTheTableOfItsMeasuresDoes) {
    const Short s = short_draw();
    const testing::Drawn& whole = testing::uneven_bow();
    Columns columns;
    for (const Measure& m : short_draw_measures(bow()).draw) columns.push_back({m, DrawPlace::whole});
    const std::vector<double> values = read(columns, s.states);
    for (std::size_t i = 0; i < values.size(); ++i)
        EXPECT_EQ(values[i], whole.whole(columns[i].measure.name, columns[i].measure.unit))
            << in_words(columns[i]);
}

TEST(ShortDraw, MustHoldTheHandsTorqueOnlyWhereForgivenessIsRead) {
    const auto torque = [](const PlacedMeasure& m, DrawPlace at) {
        return needs({m}, Needs::yaw_torque_effect, at);
    };
    for (const DrawPlace at : state_places) EXPECT_FALSE(torque(placed("lean_top", at), at));
    const PlacedMeasure at_peak = placed("forgiveness_arrow_yaw", DrawPlace::peak);
    EXPECT_TRUE(torque(at_peak, DrawPlace::peak));
    EXPECT_FALSE(torque(at_peak, DrawPlace::brace));
    EXPECT_FALSE(torque(at_peak, DrawPlace::full_draw));
    const PlacedMeasure of_the_draw = placed("forgiveness_nock_travel", DrawPlace::whole);
    EXPECT_TRUE(torque(of_the_draw, DrawPlace::full_draw));
    EXPECT_FALSE(torque(of_the_draw, DrawPlace::peak));
}

TEST(ShortDraw, MustHoldEnergyOnlyWhereItIsRead) {
    EXPECT_FALSE(needs(columns_of({}, bow()), Needs::energy));
    EXPECT_TRUE(needs({placed("stored_energy", DrawPlace::full_draw)}, Needs::energy));
    EXPECT_TRUE(needs({placed("stored_energy", DrawPlace::whole)}, Needs::energy));
}

}  // namespace
}  // namespace limbwright::models::recorded_measures_test
