#include "models/states/sensitivity_table.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/strung.hpp"

namespace limbwright::models::sensitivity_table_test {
namespace {

/// A bow with its table.
struct Known {
    testing::Drawn drawn;
    EffectsTable table;

    [[nodiscard]] const Effect& effect(const std::string& measure, DrawPlace at) const {
        if (const Effect* found = table.find({measure, at})) return *found;
        throw std::runtime_error("no effect on " + measure);
    }
    [[nodiscard]] double change(const std::string& measure, DrawPlace at, const std::string& setting) const {
        for (std::size_t i = 0; i < table.settings.size(); ++i)
            if (table.settings[i].name == setting) return effect(measure, at).change[i];
        throw std::runtime_error("no setting is called " + setting);
    }
};

Known known(const Bow& bow, LengthRule rule) {
    testing::Drawn d = testing::drawn(bow);
    EffectsTable table = effects_table(d.strung, d.draw, rule, settings_of(bow, 0.5));
    return {std::move(d), std::move(table)};
}

const Known& even() {
    static const Known bow = known(testing::small_bow(), LengthRule::kept);
    return bow;
}
const Known& uneven() {
    static const Known bow = known(testing::small_uneven_bow(), LengthRule::kept);
    return bow;
}
const Known& uneven_re_timed() {
    static const Known bow = known(testing::small_uneven_bow(), LengthRule::re_timed);
    return bow;
}

/// A demo bow that draws to its stops, drawn so far beyond them instead.
Bow drawn_beyond_stops(const std::string& name, double further) {
    Bow bow = testing::demo_bow(name);
    const double end = testing::drawn(bow, testing::in_states(2)).draw.states.back().draw;
    bow.shooter.draw_length = end + further + draw_length_beyond_pivot;
    return bow;
}

/// Values of all rows, from states solved anew with one setting changed.
std::vector<double> solved_anew(const Known& today, const Setting& setting, double change) {
    const Bow& bow = today.drawn.bow().bow;
    Layout layout = bow.layout;
    setting.set(layout, setting.get(layout) + change);
    const AssembledBow assembled = assemble(bow, layout);
    const StrungBow strung = testing::strung(today.table.lengths == LengthRule::kept
                                                 ? string_up(assembled, today.drawn.strung.lengths)
                                                 : string_up(assembled));
    const double peak = today.effect("draw", DrawPlace::peak).today;
    const double full = today.effect("draw", DrawPlace::full_draw).today;
    Draw draw = testing::whole(models::draw(strung, testing::draw_to(peak, 2)));
    draw.states.resize(2);
    draw.states.push_back(testing::whole(models::draw(strung, testing::draw_to(full, 2))).states.back());
    std::vector<double> values;
    for (const Effect& e : today.table.effects) {
        const std::size_t i = e.of.at == DrawPlace::peak ? 1 : e.of.at == DrawPlace::full_draw ? 2 : 0;
        values.push_back(e.of.measure.value({strung.bow, draw, i}));
    }
    return values;
}

/// The largest stress of several sections jumps in its derivative from one section to the next.
bool has_kinks(const std::string& measure) {
    return measure.starts_with("axle_stress");
}

/// Every effect against central differences of states solved anew over a tenth of a step. Their truncation is
/// a hundredth of the third-order part of a step; entries below 1e-4 of the unit are lost in the rounding of
/// the states.
///
/// @param words  in the names of the settings that are looked at
void expect_as_solved_anew(const Known& bow, const std::string& words = "") {
    constexpr double share = 0.1;
    for (std::size_t k = 0; k < bow.table.settings.size(); ++k) {
        const Setting& setting = bow.table.settings[k];
        if (setting.name.find(words) == std::string::npos) continue;
        const std::vector<double> more = solved_anew(bow, setting, share * setting.step);
        const std::vector<double> less = solved_anew(bow, setting, -share * setting.step);
        ASSERT_EQ(more.size(), bow.table.effects.size());
        for (std::size_t i = 0; i < more.size(); ++i) {
            const Effect& effect = bow.table.effects[i];
            const double wanted = (more[i] - less[i]) / (2 * share);
            if (has_kinks(effect.of.measure.id) || std::isnan(wanted)) continue;
            EXPECT_NEAR(effect.change[k], wanted, 0.01 * std::abs(wanted) + 1e-4)
                << setting.name << " on " << in_words(effect.of);
        }
    }
}

TEST(EffectsTable, WithKeptLengthsIsAsBowsSolvedAnew) {
    expect_as_solved_anew(uneven());
}

TEST(EffectsTable, WithLengthsReTimedIsAsBowsSolvedAnew) {
    expect_as_solved_anew(uneven_re_timed());
}

TEST(EffectsTable, OfYokesIsAsBowsSolvedAnew) {
    expect_as_solved_anew(known(drawn_beyond_stops("yoked", -5), LengthRule::kept), "yoke");
}

TEST(EffectsTable, BeyondTheDrawStopIsAsBowsSolvedAnew) {
    const Known bow = known(drawn_beyond_stops("single_cam", 2), LengthRule::re_timed);
    ASSERT_LT(bow.drawn.full("turn to stop, bottom"), 0);
    expect_as_solved_anew(bow, "bottom");
}

TEST(EffectsTable, TellsTodaysValues) {
    for (const Effect& e : uneven().table.effects) {
        double today = 0;
        switch (e.of.at) {
            case DrawPlace::brace:
                today = uneven().drawn.brace(e.of.measure.name);
                break;
            case DrawPlace::full_draw:
                today = uneven().drawn.full(e.of.measure.name);
                break;
            case DrawPlace::whole:
                today = uneven().drawn.whole(e.of.measure.name, e.of.measure.unit);
                break;
            case DrawPlace::peak:
                continue;
        }
        if (std::isnan(today)) continue;
        // States are solved to about 1e-9 of their forces; brace's own force is zero.
        EXPECT_NEAR(e.today, today, 1e-6 * std::max(1., std::abs(today))) << e.of.measure.id;
    }
}

TEST(EffectsTable, HasAChangeForEverySettingOfEveryMeasureThatIsDefined) {
    for (const Effect& e : uneven().table.effects) {
        ASSERT_EQ(e.change.size(), uneven().table.settings.size());
        EXPECT_FALSE(e.of.measure.unit.empty());
        EXPECT_FALSE(e.of.measure.definition.empty());
        for (const double change : e.change)
            EXPECT_EQ(std::isnan(change), std::isnan(e.today)) << e.of.measure.id;
    }
}

/// In a symmetric bow the left setting does to what is lateral the opposite of the right one, to all else the
/// same.
TEST(EffectsTable, OfLeftAndRightSettingsOfASymmetricBowAreMirrorImages) {
    const std::pair<const char*, double> measures[] = {{"lean_top", -1},
                                                       {"lean_bottom", -1},
                                                       {"toe_top", -1},
                                                       {"nock_travel_lateral", -1},
                                                       {"riser_twist", -1},
                                                       {"bearing_side_force_top", -1},
                                                       {"draw_force", 1},
                                                       {"timing_turns", 1},
                                                       {"nock_travel_vertical", 1},
                                                       {"tension_string_above_the_nock", 1}};
    for (const std::string end : {"top", "bottom"})
        for (const auto& [measure, sign] : measures)
            for (const DrawPlace at : {DrawPlace::brace, DrawPlace::full_draw}) {
                const double left = even().change(measure, at, "limb number, " + end + " left");
                const double right = even().change(measure, at, "limb number, " + end + " right");
                // 1e-5: rounding of forces over a hundredth of a step
                EXPECT_NEAR(left, sign * right, 1e-5 + 1e-6 * std::abs(left)) << end << ", " << measure;
            }
    EXPECT_GT(std::abs(even().change("lean_top", DrawPlace::full_draw, "limb number, top left")), 0.01);
}

TEST(EffectsTable, OfLateralSettingsOnWhatIsNotLateralAreZeroInASymmetricBow) {
    for (const char* setting : {"spacers, top", "spacers, bottom", "guide, lateral", "guide, angle"})
        for (const char* measure : {"draw_force", "timing_turns", "nock_travel_vertical",
                                    "tension_cable_of_the_top_take_up", "stored_energy"})
            EXPECT_NEAR(even().change(measure, DrawPlace::full_draw, setting), 0, 1e-5) << setting << measure;
    EXPECT_GT(std::abs(even().change("nock_travel_lateral", DrawPlace::full_draw, "spacers, top")), 0.1);
}

TEST(EffectsTable, OfBoltsAndTwistsOnWhatIsLateralAreZeroInASymmetricBow) {
    for (const char* setting : {"limb bolt, top", "limb bolt, bottom", "twist, string",
                                "twist, top take-up cable", "twist, bottom take-up cable"})
        for (const char* measure : {"lean_top", "lean_bottom", "nock_travel_lateral", "riser_bend"})
            EXPECT_NEAR(even().change(measure, DrawPlace::full_draw, setting), 0, 1e-5) << setting << measure;
    EXPECT_LT(even().change("draw_force", DrawPlace::peak, "limb bolt, top"), -1);
}

TEST(EffectsTable, AStifferLeftLimbLeansTheCamAsItPushesTheAxleUpOnTheLeft) {
    // The top axle's left end goes up: the cam's outer edge goes to the right.
    EXPECT_LT(even().change("lean_top", DrawPlace::brace, "limb number, top left"), -0.01);
    EXPECT_LT(even().change("lean_bottom", DrawPlace::brace, "limb number, bottom left"), -0.01);
}

TEST(EffectsTable, WithLengthsReTimedLeavesBraceAsItWasMeasured) {
    for (const char* setting :
         {"limb number, top left", "spacers, top", "guide, lateral", "limb bolt, bottom"}) {
        for (const char* measure : {"axle_to_axle", "nocking_point_height"})
            EXPECT_NEAR(uneven_re_timed().change(measure, DrawPlace::whole, setting), 0, 1e-5) << setting;
        EXPECT_NEAR(uneven_re_timed().change("timing_turns", DrawPlace::brace, setting), 0, 1e-5) << setting;
    }
    EXPECT_GT(std::abs(uneven().change("timing_turns", DrawPlace::brace, "limb bolt, bottom")), 0.01);
}

TEST(EffectsTable, WithLengthsReTimedTwistsOfStringAndCablesChangeNothing) {
    const EffectsTable& table = uneven_re_timed().table;
    for (std::size_t i = 0; i < table.settings.size(); ++i) {
        if (!table.settings[i].name.starts_with("twist")) continue;
        for (const Effect& e : table.effects)
            EXPECT_NEAR(std::isnan(e.today) ? 0 : e.change[i], 0, 1e-4) << e.of.measure.id;
    }
}

TEST(EffectsTable, OfABowDrawnToItsStopsHoldsTheNockingPointWhereTodaysDrawEnds) {
    const Known bow = known(testing::demo_bow("single_cam"), LengthRule::kept);
    for (const double change : bow.effect("draw", DrawPlace::full_draw).change) EXPECT_EQ(change, 0);
    // The stop has not quite met, and does not come to: the cam turns against it as it would without it.
    const double kept = bow.change("turn_to_stop_bottom", DrawPlace::full_draw, "limb bolt, bottom");
    EXPECT_GT(std::abs(kept), 0.01);
}

}  // namespace
}  // namespace limbwright::models::sensitivity_table_test
