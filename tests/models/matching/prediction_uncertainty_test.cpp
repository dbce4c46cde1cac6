#include "models/matching/prediction_uncertainty.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::prediction_uncertainty_test {
namespace {

/// A match that knows all numbers of the small bow but one.
Corrections unsure_of(const std::string& key, double sigma) {
    const Bow bow = testing::small_uneven_bow();
    Corrections made{bow, match_parameters(bow), {}, {}};
    const auto count = static_cast<Eigen::Index>(made.parameters.size());
    made.change = solver::VecX::Zero(count);
    made.errors = solver::MatX::Zero(count, count);
    const auto place =
        std::ranges::find(made.parameters, key, &MatchParameter::key) - made.parameters.begin();
    made.errors(place, place) = sigma * sigma;
    return made;
}

Cure cured_by(const TuneSolver& solver, const Layout& tune, LengthRule rule) {
    Cure cure;
    cure.layout = tune;
    cure.lengths = rule;
    const auto answer = solver.solve(tune, rule);
    const auto& solved = std::get<SolvedTune>(answer);
    cure.measures = compare(solver.today(), solved);
    cure.brace = brace_of(solved.strung);
    return cure;
}

const CureMeasure& measure(const Cure& cure, const std::string& name) {
    return *std::ranges::find(cure.measures, name, &CureMeasure::name);
}

Cures one_cure(const TuneSolver& solver, const Layout& tune, LengthRule rule) {
    Cures cures;
    cures.wanted = wanted_of(solver.today(), *tear_of("left", 25));
    cures.ranked = {cured_by(solver, tune, rule)};
    return cures;
}

/// Against bows that are one standard deviation off either way, solved anew.
TEST(Sureness, IsWhatTheNumbersErrorDoesToTheCuredBow) {
    for (const auto& [key, sigma] :
         {std::pair("limb_number_top_left", 0.2), std::pair("guide_lateral", 0.2)}) {
        const Corrections today = unsure_of(key, sigma);
        const TuneSolver solver(today.bow, 9);
        Layout tune = today.bow.layout;
        tune.spacers_top = {{1.5, 3.5}, {1.5, 1.5}};
        Cures cures = one_cure(solver, tune, LengthRule::re_timed);
        (void)tell_sureness(cures, solver, today, {});
        std::vector<Cure> off;
        for (const double sign : {1.0, -1.0}) {
            Corrections other = today;
            const auto place = std::ranges::find(other.parameters, key, &MatchParameter::key);
            other.change[place - other.parameters.begin()] = sign * sigma;
            const TuneSolver there(other.bow, 9, [&](Bow bow) { return other.applied(std::move(bow)); });
            off.push_back(cured_by(there, tune, LengthRule::re_timed));
        }
        for (const char* name : {"tail turn, lateral", "cam lean, top, at full draw", "peak weight"}) {
            const double half = std::abs(measure(off[0], name).after - measure(off[1], name).after) / 2;
            // Second order of a small change, and a peak between the draw's nine states.
            EXPECT_NEAR(*measure(cures.ranked[0], name).after_sigma, half, 0.03 * half + 2e-3) << key << name;
        }
    }
}

TEST(Sureness, KnowsALimbThatComesInAsWellAsItsNumber) {
    Corrections today = unsure_of("guide_lateral", 1e-9);
    const TuneSolver solver(today.bow, 9);
    Layout tune = today.bow.layout;
    tune.pairing.top_left = 54;
    Cures cures = one_cure(solver, tune, LengthRule::re_timed);
    (void)tell_sureness(cures, solver, today, {});
    const CureMeasure& lean = measure(cures.ranked[0], "cam lean, top, at full draw");
    EXPECT_LT(*lean.before_sigma, 1e-6);
    // Two numbers more lean it by so much; one number is one standard deviation.
    EXPECT_NEAR(*lean.after_sigma, std::abs(lean.after - lean.before) / 2, 0.1 * *lean.after_sigma);
}

TEST(Sureness, PredictsWhatTheBenchWillShowAndSaysWhatToMeasure) {
    const Corrections today = unsure_of("guide_lateral", 1);
    const TuneSolver solver(today.bow, 9);
    Layout tune = today.bow.layout;
    tune.guide_lateral = 1;
    Cures cures = one_cure(solver, tune, LengthRule::kept);
    const std::vector<Measurement> measured{{"draw_weight", 400, 200, 2}};
    const std::vector<Foresight> foresights = tell_sureness(cures, solver, today, measured);
    ASSERT_EQ(foresights.size(), 1u);
    const auto& predicted = foresights[0].predicted;
    const auto weight = std::ranges::find(predicted, "draw_weight", &Measurement::quantity);
    ASSERT_NE(weight, predicted.end());
    EXPECT_NEAR(*weight->at, 400, 1e-9);
    const auto brace = std::ranges::find(predicted, "brace_height", &Measurement::quantity);
    // Rounded to a hundredth of its standard deviation, a small one here.
    EXPECT_NEAR(brace->value, measure(cures.ranked[0], "brace height").after, 0.01);
    EXPECT_FALSE(foresights[0].measure_first.empty());
    EXPECT_LT(foresights[0].sure_then, *cures.ranked[0].answered_sigma);
}

}  // namespace
}  // namespace limbwright::models::prediction_uncertainty_test
