#include "models/states/measure_table.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow_file.hpp"

namespace limbwright::models::measure_table_test {
namespace {

const AssembledBow& bow() {
    static const AssembledBow made = assemble(read_bow(std::string(SOURCE_DIR) + "/examples/crossed.toml"));
    return made;
}
const MeasureTable& table() {
    static const MeasureTable made = measure_table(bow());
    return made;
}

TEST(MeasureTable, StatesAndWholeDrawsHaveTheirOwn) {
    ASSERT_TRUE(named(table().states, "cam lean, top"));
    EXPECT_EQ(named(table().states, "cam lean, top")->unit, "deg");
    EXPECT_FALSE(named(table().draw, "cam lean, top"));
    ASSERT_TRUE(named(table().draw, "let-off"));
    EXPECT_EQ(named(table().draw, "let-off")->unit, "%");
    EXPECT_FALSE(named(table().states, "let-off"));
}

TEST(MeasureTable, FindsAMeasureAtItsPlaceOnly) {
    const auto lean = find(table(), {"lean_top", DrawPlace::peak});
    ASSERT_TRUE(lean);
    EXPECT_EQ(lean->key(), (MeasureKey{"lean_top", DrawPlace::peak}));
    EXPECT_EQ(lean->measure.name, "cam lean, top");
    EXPECT_FALSE(find(table(), {"lean_top", DrawPlace::whole}));
    EXPECT_FALSE(find(table(), {"let_off", DrawPlace::peak}));
    EXPECT_NE(find(table(), {"stored_energy", DrawPlace::whole})->measure.definition,
              find(table(), {"stored_energy", DrawPlace::full_draw})->measure.definition);
}

TEST(MeasureTable, OfAShortDrawLeavesOutWhatNeedsAllStates) {
    const MeasureTable few = short_draw_measures(bow());
    for (const char* id : {"work", "energy_error", "iterations"}) {
        EXPECT_TRUE(find(table().states, id)) << id;
        EXPECT_FALSE(find(few.states, id)) << id;
    }
    for (const char* id : {"path_slope_lateral", "draw_at_peak"}) {
        EXPECT_TRUE(find(table().draw, id)) << id;
        EXPECT_FALSE(find(few.draw, id)) << id;
    }
    EXPECT_TRUE(find(few.draw, "peak_weight"));
}

TEST(MeasureTable, TheNearestComesFirst) {
    const std::vector<std::string> near = nearest(table(), "cam leen, top");
    ASSERT_EQ(near.size(), 3u);
    EXPECT_EQ(near[0], "cam lean, top");
    EXPECT_EQ(nearest(table(), "letoff")[0], "let-off");
}

TEST(MeasureTable, ANameInBothListsIsAdvisedOnce) {
    const std::vector<std::string> near = nearest(table(), "stored energi");
    EXPECT_EQ(near[0], "stored energy");
    EXPECT_NE(near[1], "stored energy");
}

}  // namespace
}  // namespace limbwright::models::measure_table_test
