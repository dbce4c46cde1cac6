#include "models/study/recorded_measures.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/strung.hpp"

namespace limbwright::models::recorded_measures_test {
namespace {

using Columns = std::vector<RecordedMeasure>;

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
    return std::ranges::count_if(
        columns, [&](const RecordedMeasure& c) { return c.measure == measure && c.at == at; });
}

std::string text(const RecordedMeasure& column) {
    return to_text({column.measure, {}, column.at});
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
    study.aims = {aim("riser twist", DrawPlace::peak), aim("let-off", DrawPlace::whole)};
    study.limits = {limit("clearance", DrawPlace::full_draw)};
    const Columns columns = columns_of(study, bow());
    EXPECT_EQ(count(columns, "riser twist", DrawPlace::peak), 1);
    EXPECT_EQ(count(columns, "riser twist", DrawPlace::full_draw), 0);
    EXPECT_EQ(count(columns, "let-off", DrawPlace::whole), 1);
    EXPECT_EQ(count(columns, "clearance", DrawPlace::full_draw), 1);
}

TEST(StudyColumns, HoldBothMeasuresOfADifference) {
    Study study;
    study.aims = {aim("bearing moment, top", DrawPlace::brace, "bearing moment, bottom")};
    const Columns columns = columns_of(study, bow());
    EXPECT_EQ(count(columns, "bearing moment, top", DrawPlace::brace), 1);
    EXPECT_EQ(count(columns, "bearing moment, bottom", DrawPlace::brace), 1);
}

TEST(StudyColumns, StandOnceEachHoweverOftenTheyAreAskedFor) {
    Study study;
    study.aims = {aim("riser twist", DrawPlace::peak), aim("riser twist", DrawPlace::peak),
                  aim("cam lean, top", DrawPlace::full_draw, "cam lean, bottom")};
    study.limits = {limit("riser twist", DrawPlace::peak), limit("axle-to-axle", DrawPlace::whole)};
    const Columns columns = columns_of(study, bow());
    for (const RecordedMeasure& column : columns)
        EXPECT_EQ(count(columns, column.measure, column.at), 1) << text(column);
    EXPECT_EQ(count(columns, "axle-to-axle", DrawPlace::whole), 1);
}

TEST(StudyColumns, WithoutAimsAreWhatATunerLooksAt) {
    const Columns columns = columns_of({}, bow());
    for (const DrawPlace at : {DrawPlace::brace, DrawPlace::full_draw})
        for (const char* measure : {"cam lean, top", "cam lean, bottom"})
            EXPECT_EQ(count(columns, measure, at), 1) << measure;
    EXPECT_EQ(count(columns, "draw force", DrawPlace::peak), 1);
    EXPECT_EQ(count(columns, "forgiveness, nock travel", DrawPlace::full_draw), 1);
    EXPECT_EQ(count(columns, "brace height", DrawPlace::whole), 1);
}

TEST(StudyColumns, LeaveOutWhatTheBowDoesNotHave) {
    const AssembledBow single = assemble(testing::demo_bow("single_cam"));
    const Columns columns = columns_of({}, single);
    // With an idler there is no second cam to be timed.
    EXPECT_EQ(count(columns, "timing, turns", DrawPlace::full_draw), 0);
    EXPECT_EQ(count(columns_of({}, bow()), "timing, turns", DrawPlace::full_draw), 1);
    EXPECT_NO_THROW(ColumnReader(columns, single));
}

TEST(StudyColumns, HaveTheUnitsOfTheirMeasures) {
    Study study;
    study.aims = {aim("stored energy", DrawPlace::full_draw), aim("peak weight", DrawPlace::whole)};
    const Columns columns = columns_of(study, bow());
    const auto unit = [&](const std::string& measure) {
        return std::ranges::find(columns, measure, &RecordedMeasure::measure)->unit;
    };
    EXPECT_EQ(unit("cam lean, top"), "deg");
    EXPECT_EQ(unit("stored energy"), "J");
    EXPECT_EQ(unit("peak weight"), "N");
}

/// Every measure of a state that does not look at how it was found, at every place, against the long draw's
/// tables.
TEST(ColumnReader, ReadsStatesAsTheTableOfMeasuresDoes) {
    const Short s = short_draw();
    Columns columns;
    std::vector<double> wanted;
    for (const StateMeasure& m : state_measures(bow())) {
        if (m.name == "work" || m.name == "energy error") continue;  // of the whole way to a state
        for (const auto& [at, index] :
             {std::pair{DrawPlace::brace, std::size_t{0}}, std::pair{DrawPlace::peak, s.peak},
              std::pair{DrawPlace::full_draw, s.full}}) {
            columns.push_back({m.name, m.unit, at});
            wanted.push_back(m.value({bow(), testing::uneven_bow().draw, index, 0}));
        }
    }
    const std::vector<double> values =
        ColumnReader(columns, bow()).read(testing::uneven_bow().strung, s.states);
    ASSERT_EQ(values.size(), wanted.size());
    for (std::size_t i = 0; i < values.size(); ++i)
        EXPECT_TRUE(values[i] == wanted[i] || (std::isnan(values[i]) && std::isnan(wanted[i])))
            << text(columns[i]) << ": " << values[i] << " and " << wanted[i];
}

TEST(ColumnReader, ReadsTheDrawAsTheTableOfItsMeasuresDoes) {
    const Short s = short_draw();
    const testing::Drawn& whole = testing::uneven_bow();
    Columns columns;
    for (const DrawMeasure& m : draw_measures()) columns.push_back({m.name, m.unit, DrawPlace::whole});
    const std::vector<double> values = ColumnReader(columns, bow()).read(whole.strung, s.states);
    ASSERT_EQ(values.size(), columns.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        // The first step of the short draw is a long one.
        if (columns[i].measure.starts_with("path slope")) continue;
        EXPECT_EQ(values[i], whole.whole(columns[i].measure, columns[i].unit)) << text(columns[i]);
    }
}

TEST(ColumnReader, TellsWhatEachColumnMeans) {
    const Columns columns{{"cam lean, top", "deg", DrawPlace::brace}, {"let-off", "%", DrawPlace::whole}};
    const ColumnReader reader(columns, bow());
    ASSERT_EQ(reader.meanings().size(), 2u);
    EXPECT_NE(reader.meanings()[0].definition.find("left"), std::string::npos);
    EXPECT_EQ(reader.meanings()[1].definition, "1 − holding weight / peak weight");
    EXPECT_EQ(reader.meanings()[1].digits, 1);
}

TEST(ColumnReader, NeedsTheHandsTorqueOnlyWhereForgivenessIsRead) {
    const ColumnReader without({{"cam lean, top", "deg", DrawPlace::full_draw}}, bow());
    for (const DrawPlace at : {DrawPlace::brace, DrawPlace::peak, DrawPlace::full_draw})
        EXPECT_FALSE(without.needs_yaw_torque_effect(at));
    const ColumnReader at_peak({{"forgiveness, arrow yaw", "deg/(N m)", DrawPlace::peak}}, bow());
    EXPECT_TRUE(at_peak.needs_yaw_torque_effect(DrawPlace::peak));
    EXPECT_FALSE(at_peak.needs_yaw_torque_effect(DrawPlace::brace));
    EXPECT_FALSE(at_peak.needs_yaw_torque_effect(DrawPlace::full_draw));
    const ColumnReader of_the_draw({{"forgiveness, nock travel", "mm/(N m)", DrawPlace::whole}}, bow());
    EXPECT_TRUE(of_the_draw.needs_yaw_torque_effect(DrawPlace::full_draw));
    EXPECT_FALSE(of_the_draw.needs_yaw_torque_effect(DrawPlace::peak));
}

TEST(ColumnReader, NeedsEnergyOnlyWhereItIsRead) {
    EXPECT_FALSE(ColumnReader(columns_of({}, bow()), bow()).needs_energy());
    EXPECT_TRUE(ColumnReader({{"stored energy", "J", DrawPlace::full_draw}}, bow()).needs_energy());
    EXPECT_TRUE(ColumnReader({{"stored energy", "J", DrawPlace::whole}}, bow()).needs_energy());
}

TEST(ColumnReader, RefusesAMeasureThatIsInNoTable) {
    const auto made = [](const RecordedMeasure& column) {
        return ColumnReader({column}, bow()).needs_energy();
    };
    EXPECT_THROW((void)made({"let-off", "%", DrawPlace::peak}), std::invalid_argument);
    EXPECT_THROW((void)made({"cam lean, top", "deg", DrawPlace::whole}), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::models::recorded_measures_test
