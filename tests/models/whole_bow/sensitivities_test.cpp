#include <gtest/gtest.h>

#include <algorithm>

#include "models/matching/forward_model.hpp"
#include "models/states/sensitivity_table.hpp"
#include "models/study/reference_states.hpp"
#include "tests/support/strung.hpp"

/// Effects, studies and matching ask how today's states answer a change of the bow, each for its own end.
/// They are told the same.
namespace limbwright::models::whole_bow_sensitivities_test {
namespace {

using solver::State;

/// What can be changed on every bow here, as settings and match parameters call it, inside mm and turns.
const std::pair<std::string, std::string> changes[] = {{"guide, lateral", "guide_lateral"},
                                                       {"limb bolt, top", "bolt_top"}};
const std::string measures[] = {"lean_top", "lean_bottom", "toe_top", "timing_turns"};

/// A measure of one state.
double measured(const std::string& measure, const AssembledBow& bow, const State& state) {
    const std::vector<Measure> all = state_measures(bow);
    return find(all, measure)->value({bow, {{draw_state(bow, state)}, {}, {}}});
}

/// d measure / d change at full draw, row by row as above.
using Derivatives = std::vector<std::vector<double>>;

Derivatives of_effects(const Bow& bow, LengthRule rule) {
    const testing::Drawn d = testing::drawn(bow);
    const EffectsTable table = effects_table(d.strung, d.draw, rule, settings_of(bow, 0.5));
    Derivatives all;
    for (const std::string& measure : measures) {
        const Effect* effect = table.find({measure, DrawPlace::full_draw});
        std::vector<double>& row = all.emplace_back();
        for (const auto& [name, key] : changes) {
            const auto setting = std::ranges::find(table.settings, name, &Setting::name);
            row.push_back(effect->change[static_cast<std::size_t>(setting - table.settings.begin())] /
                          setting->step);
        }
    }
    return all;
}

/// Of the states alone: what changes here changes nothing in how the measures are read.
Derivatives of_a_study(const Bow& bow, LengthRule rule) {
    Study study;
    study.lengths = rule;
    for (const auto& [name, key] : changes) study.ranges.push_back({name, {0, 0.1, 0.1}});
    const StudyBase base(bow, study);
    const StudyBase::Station& full = base.stations().back();
    Derivatives all;
    for (const std::string& measure : measures) {
        std::vector<double>& row = all.emplace_back();
        const auto read = [&](const State& x) { return measured(measure, base.today().bow, x); };
        for (int i = 0; i < full.slopes.cols(); ++i)
            row.push_back(solver::derivative_along(full.slopes.col(i), full.state, read));
    }
    return all;
}

Derivatives of_matching(const Bow& bow) {
    const MeasureTable table = measure_table(assemble(bow));
    std::vector<BenchQuery> queries;
    for (const std::string& measure : measures)
        queries.push_back({{"", *find(table, {measure, DrawPlace::full_draw}), nullptr}, {}});
    const BenchModel model(bow, match_parameters(bow), queries);
    const solver::MatX slopes = model.slopes(model.start());
    Derivatives all(std::size(measures));
    for (const auto& [name, key] : changes) {
        const auto parameter = std::ranges::find(model.parameters(), key, &MatchParameter::key);
        for (std::size_t m = 0; m < all.size(); ++m)
            all[m].push_back(slopes(static_cast<int>(m), parameter - model.parameters().begin()));
    }
    return all;
}

/// Steps of a hundredth of what is practical, as effects and matching take, leave 1e-4 of a practical step's
/// third-order effect; rounding of forces leaves 1e-6.
constexpr double agreement = 1e-5;

void expect_agreement(const Bow& bow, LengthRule rule) {
    const Derivatives effects = of_effects(bow, rule), study = of_a_study(bow, rule),
                      matching = of_matching(bow);
    for (std::size_t m = 0; m < std::size(measures); ++m)
        for (std::size_t c = 0; c < std::size(changes); ++c) {
            const double bound = agreement * (1 + std::abs(effects[m][c]));
            EXPECT_NEAR(study[m][c], effects[m][c], bound) << measures[m] << " by " << changes[c].first;
            EXPECT_NEAR(matching[m][c], effects[m][c], bound) << measures[m] << " by " << changes[c].first;
        }
    EXPECT_GT(std::abs(effects[0][0]), 0.01);
}

TEST(Sensitivities, AreTheSameWhereBraceIsMeasured) {
    expect_agreement(testing::small_uneven_bow(), LengthRule::re_timed);
}

TEST(Sensitivities, AreTheSameWhereLengthsAreGiven) {
    Bow bow = testing::small_uneven_bow();
    const StrungBow strung = testing::strung(bow);
    bow.cables.string_above = strung.lengths.string_above;
    bow.cables.string_below = strung.lengths.string_below;
    bow.cables.cables = strung.lengths.cables;
    expect_agreement(bow, LengthRule::kept);
}

TEST(Sensitivities, AreTheSameBeyondADrawStop) {
    Bow bow = testing::small_uneven_bow();
    bow.cam_top.stop = 2.6;
    ASSERT_LT(testing::drawn(bow).full("turn to stop, top"), 0);
    expect_agreement(bow, LengthRule::re_timed);
}

/// Full draw is where the later stop meets; the earlier one has met, the later one does not come to.
TEST(Sensitivities, AreTheSameWhereTheBowIsDrawnToItsStops) {
    Bow bow = testing::small_uneven_bow();
    bow.shooter.draw_length.reset();
    bow.cam_top.stop = 2.5;
    bow.cam_bottom.stop = 2.6;
    ASSERT_LT(testing::drawn(bow).full("turn to stop, top"), 0);
    expect_agreement(bow, LengthRule::re_timed);
}

}  // namespace
}  // namespace limbwright::models::whole_bow_sensitivities_test
