#include "postproc/results/mode_results.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace limbwright::postproc::mode_results_test {
namespace {

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

models::BowMode mode(double eigenvalue, double sideways, std::vector<double> shares) {
    return {.motion = {eigenvalue, {}}, .shares = std::move(shares), .sideways = sideways};
}

/// Made up: ω of 10 and of 200 a second.
MotionsAt steady() {
    MotionsAt m{.name = "brace", .state = {}, .modes = {}};
    m.modes.parts = {"riser", "string"};
    m.modes.masses = {1.5e-3, 5e-6};
    m.modes.assumed = {"riser: 2700 kg/m3"};
    m.modes.lowest = {mode(100, 0.9, {0.7, 0.3}), mode(4e4, 0.5, {0.2, 0.8})};
    return m;
}
MotionsAt falling() {
    MotionsAt m = steady();
    m.modes.lowest[0].motion.eigenvalue = -2500;
    m.modes.unstable = 1;
    return m;
}

TEST(ModeResults, AStableStateTellsItsSlowestSwing) {
    const std::string text = stability_text(steady());
    EXPECT_TRUE(says(text, "Stable at brace: ")) << text;
    EXPECT_TRUE(says(text, "ω² = 100 1/s²")) << text;
    EXPECT_TRUE(says(text, "takes 628 ms a swing")) << text;  // 2π/10
}

TEST(ModeResults, AnUnstableStateTellsWhatRunsAwayAndHowFast) {
    const std::string text = stability_text(falling());
    EXPECT_TRUE(says(text, "NOT STABLE at brace: ")) << text;
    EXPECT_TRUE(says(text, "in 1 direction.")) << text;
    EXPECT_TRUE(says(text, "mostly of the riser, sideways, grows by e in 20.0 ms")) << text;  // 1/50 s
}

TEST(ModeResults, TheTableNamesPartAndDirection) {
    const Table table = modes_table(falling());
    EXPECT_TRUE(std::isnan(table.rows[0][0]));
    EXPECT_NEAR(table.rows[1][0], 31.830988618, 1e-8);  // 200/2π
    EXPECT_EQ(table.columns[1].words, (std::vector<std::string>{"sideways", "both"}));
    EXPECT_EQ(table.columns[3].words, (std::vector<std::string>{"riser", "string"}));
}

TEST(ModeResults, MassesAreInGramsAndAddedUp) {
    const Table table = masses_table(steady().modes);
    EXPECT_EQ(table.texts.back(), "together");
    EXPECT_NEAR(table.rows.back()[0], 1505, 1e-9);
}

TEST(ModeResults, NothingIsSaidToBeAssumedWhereTheFileGivesAll) {
    MotionsAt all_given = steady();
    EXPECT_TRUE(says(assumptions_text(all_given.modes), "assumed: riser: 2700 kg/m3."));
    all_given.modes.assumed.clear();
    EXPECT_FALSE(says(assumptions_text(all_given.modes), "assumed"));
}

TEST(ModeResults, JsonHasNoFrequencyWhereTheMotionRunsAway) {
    const MotionsAt states[] = {falling()};
    const nlohmann::json result = to_json(states, "a bow");
    const nlohmann::json& first = result["states"][0]["modes"][0];
    EXPECT_TRUE(first["frequency_hz"].is_null());
    EXPECT_DOUBLE_EQ(first["growth_rate_per_s"].get<double>(), 50);
    EXPECT_EQ(result["states"][0]["unstable_directions"], 1);
}

}  // namespace
}  // namespace limbwright::postproc::mode_results_test
