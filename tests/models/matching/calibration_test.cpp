#include "models/matching/calibration.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include <Eigen/Cholesky>

#include "models/matching/forward_model.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::calibration_test {
namespace {

using limbwright::testing::small_uneven_bow;
using solver::VecX;

/// What a bench sheet asks, with draw lengths where they are needed.
using Asked = std::vector<std::pair<std::string, std::optional<double>>>;

/// Eight numbers: a tape, a square, a straightedge, a scale.
const Asked eight{{"axle_to_axle", {}},
                  {"brace_height", {}},
                  {"nocking_point_height", {}},
                  {"straightedge_gap_top", {}},
                  {"straightedge_gap_bottom", {}},
                  {"peak_weight", {}},
                  {"holding_weight", {}},
                  {"draw_weight", 400}};

/// What would be measured on a bow, without error.
BenchSheet sheet_of(const Bow& bow, const Asked& asked) {
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    std::vector<BenchQuery> queries;
    BenchSheet sheet;
    for (const auto& [key, at] : asked) {
        const BenchQuantity& quantity = *find(quantities, key);
        queries.push_back({quantity, {}});
        if (at) queries.back().draw = *at - draw_length_beyond_pivot;
        sheet.measurements.push_back({key, at, 0, quantity.sigma});
    }
    const BenchModel model(bow, {}, queries);
    const VecX values = model.values(model.start());
    for (std::size_t k = 0; k < asked.size(); ++k)
        sheet.measurements[k].value = values[static_cast<Eigen::Index>(k)];
    return sheet;
}

void add_noise(BenchSheet& sheet, std::mt19937& generator) {
    std::normal_distribution<double> normal;
    for (Measurement& m : sheet.measurements) m.value += m.sigma * normal(generator);
}

Match matched(const Bow& bow, const BenchSheet& sheet) {
    auto answer = match(bow, sheet);
    if (const auto* no = std::get_if<NotMatched>(&answer)) throw std::runtime_error(no->reason);
    return std::get<Match>(std::move(answer));
}

const MatchedParameter& parameter(const Match& match, const std::string& key) {
    return *std::ranges::find(match.parameters, key, [](const auto& p) { return p.parameter.key; });
}

/// (p − true)ᵀ P⁻¹ (p − true) over the fitted parameters, and their number.
std::pair<double, int> distance_from(const Match& match, const Bow& truth) {
    std::vector<double> errors;
    for (const MatchedParameter& p : match.parameters)
        if (p.verdict != Verdict::not_seen) errors.push_back(p.value - p.parameter.get(truth));
    const Eigen::Map<const VecX> e(errors.data(), static_cast<Eigen::Index>(errors.size()));
    return {e.dot(VecX(Eigen::LLT<solver::MatX>(match.covariance).solve(e))), static_cast<int>(e.size())};
}

/// 95 % quantile of chi-square [NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4], by degrees of
/// freedom.
double chi_square_95(int freedoms) {
    constexpr double table[] = {0,      3.841,  5.991,  7.815,  9.488,  11.070,
                                12.592, 14.067, 15.507, 16.919, 18.307, 19.675};
    return table[freedoms];
}

TEST(Matching, MeasurementsThatAgreeWithTheBowFileChangeNothing) {
    const Bow bow = small_uneven_bow();
    const Match match = matched(bow, sheet_of(bow, eight));
    for (const MatchedParameter& p : match.parameters)
        EXPECT_NEAR(p.value, p.prior, 1e-3 * p.parameter.sigma) << p.parameter.name;  // the fit's tolerance
    EXPECT_TRUE(match.contradictions.empty());
    EXPECT_LT(match.squares, 1e-6);
}

/// Bows drawn at random about the bow file's, measured with random errors. Were the statement "95 %" true,
/// 100 seeds would give 89 … 99 in 99.0 % of all sets of seeds (binomial distribution).
TEST(Matching, StatesItsUncertaintyTrulyInNinetyFiveOfAHundredSeeds) {
    const Bow bow = small_uneven_bow();
    const std::vector<MatchParameter> parameters = match_parameters(bow);
    int within = 0;
    for (unsigned seed = 1; seed <= 100; ++seed) {
        std::mt19937 generator(seed);
        std::normal_distribution<double> normal;
        VecX values = values_of(bow, parameters);
        for (std::size_t i = 0; i < parameters.size(); ++i)
            values[static_cast<Eigen::Index>(i)] += parameters[i].sigma * normal(generator);
        const Bow truth = with_values(bow, parameters, values);
        BenchSheet sheet = sheet_of(truth, eight);
        add_noise(sheet, generator);
        const auto [distance, freedoms] = distance_from(matched(bow, sheet), truth);
        ASSERT_GE(freedoms, 5);
        if (distance <= chi_square_95(freedoms)) ++within;
    }
    EXPECT_GE(within, 89);
    EXPECT_LE(within, 99);
}

TEST(Matching, FindsWhatTheBowReallyIs) {
    const Bow bow = small_uneven_bow();
    Bow truth = bow;
    truth.limb.material.along *= 1.06;
    truth.limb.material.shear *= 1.06;
    truth.brace.axle_to_axle += 4;
    Asked asked = eight;
    asked.emplace_back("draw_weight", 500);
    BenchSheet sheet = sheet_of(truth, asked);
    // Pocket and bolts would do as well for the weight; they are known here.
    sheet.bow_sure = {{"pocket_angle", 1e-5},
                      {"limb_number_top_left", 0.01},
                      {"limb_number_top_right", 0.01},
                      {"limb_number_bottom_left", 0.01},
                      {"limb_number_bottom_right", 0.01}};
    const Match match = matched(bow, sheet);
    EXPECT_EQ(parameter(match, "limb_stiffness").verdict, Verdict::seen);
    EXPECT_NEAR(parameter(match, "limb_stiffness").value / truth.limb.material.along, 1, 0.01);
    EXPECT_NEAR(parameter(match, "axle_to_axle").value, truth.brace.axle_to_axle, 1);
    // The bow file's axle-to-axle, 4 mm away and 3 mm sure, pulls a measurement that is 1 mm sure by half of
    // that.
    for (const MatchedMeasurement& m : match.measurements) EXPECT_LT(std::abs(m.off), 0.6) << m.name;
}

TEST(Matching, MeetsAWeightFarFromTheBowFiles) {
    const Bow bow = small_uneven_bow();
    Bow truth = bow;
    truth.limb.material.along *= 0.6;
    truth.limb.material.shear *= 0.6;
    BenchSheet sheet = sheet_of(truth, eight);
    sheet.bow_sure = {{"limb_stiffness", 0.4 * bow.limb.material.along}};
    const Match match = matched(bow, sheet);
    EXPECT_NEAR(parameter(match, "limb_stiffness").value / truth.limb.material.along, 1, 0.05);
    for (const MatchedMeasurement& m : match.measurements) EXPECT_LT(std::abs(m.off), 1) << m.name;
}

TEST(Matching, NeverFitsWhatTheDataCannotSee) {
    std::mt19937 generator(4);
    const Bow bow = small_uneven_bow();
    BenchSheet sheet = sheet_of(bow, eight);
    add_noise(sheet, generator);
    const Match match = matched(bow, sheet);
    for (const char* key : {"string_stiffness", "cable_stiffness", "bolt_top", "bolt_bottom"}) {
        const MatchedParameter& p = parameter(match, key);
        EXPECT_EQ(p.verdict, Verdict::not_seen) << key;
        EXPECT_LT(p.share, match_limits::seen_share) << key;
        EXPECT_EQ(p.value, p.prior) << key;
        EXPECT_EQ(p.sigma, p.parameter.sigma) << key;
        EXPECT_EQ(p.parameter.get(match.bow), p.parameter.get(bow)) << key;
    }
}

TEST(Matching, NamesWhatCannotBeToldApart) {
    // One draw weight, and two numbers that nobody is sure of: the limbs' stiffness and the pockets' angle.
    const Bow bow = small_uneven_bow();
    BenchSheet sheet = sheet_of(bow, {{"draw_weight", 400}});
    sheet.bow_sure = {{"limb_stiffness", 8400}, {"pocket_angle", 0.05}};
    const Match match = matched(bow, sheet);
    ASSERT_EQ(match.alike.size(), 1);
    const std::string& sentence = match.alike[0].sentence;
    EXPECT_NE(sentence.find("limb stiffness by +"), std::string::npos) << sentence;
    EXPECT_NE(sentence.find("pocket angle by +"), std::string::npos) << sentence;
    const MatchedParameter &stiffness = parameter(match, "limb_stiffness"),
                           &angle = parameter(match, "pocket_angle");
    EXPECT_NE(stiffness.verdict == Verdict::not_seen, angle.verdict == Verdict::not_seen);
    const MatchedParameter& stays = stiffness.verdict == Verdict::not_seen ? angle : stiffness;
    EXPECT_FALSE(stays.with.empty());
}

TEST(Matching, FindsADeliberatelyWrongMeasurementInEverySeed) {
    // The largest weight read 10 lbf too low, with three other weights to tell.
    const Bow bow = small_uneven_bow();
    Asked asked = eight;
    asked.emplace_back("draw_weight", 480);
    const BenchSheet good = sheet_of(bow, asked);
    for (unsigned seed = 1; seed <= 10; ++seed) {
        std::mt19937 generator(seed);
        BenchSheet sheet = good;
        add_noise(sheet, generator);
        sheet.measurements[5].value -= 10 * units::pound;
        sheet.measurements[5].line = 7;
        sheet.measurements[5].file = "bench.toml";
        const Match match = matched(bow, sheet);
        ASSERT_EQ(match.contradictions.size(), 1) << seed;
        const Contradiction& c = match.contradictions[0];
        EXPECT_EQ(c.measurement, 5) << seed;
        EXPECT_NEAR(c.others, good.measurements[5].value, 3 * c.others_sigma) << seed;
        EXPECT_NE(c.sentence.find("peak weight (bench.toml:7) was measured as "), std::string::npos)
            << c.sentence;
    }
}

TEST(Matching, GoodMeasurementsContradictNothing) {
    const Bow bow = small_uneven_bow();
    const BenchSheet good = sheet_of(bow, eight);
    for (unsigned seed = 1; seed <= 10; ++seed) {
        std::mt19937 generator(seed);
        BenchSheet sheet = good;
        add_noise(sheet, generator);
        EXPECT_TRUE(matched(bow, sheet).contradictions.empty()) << seed;
    }
}

TEST(Matching, TheNextMeasurementTellsWhatWasPromised) {
    const Bow bow = small_uneven_bow();
    const Match before = matched(bow, sheet_of(bow, eight));
    ASSERT_FALSE(before.next.empty());
    const NextMeasurement& next = before.next.front();
    Asked more = eight;
    more.emplace_back(next.quantity, next.at);
    const Match after = matched(bow, sheet_of(bow, more));
    const auto sigma = [&](const Match& match) {
        const MatchedParameter& p = match.parameters[static_cast<std::size_t>(next.parameter)];
        return p.parameter.sigma * std::sqrt(1 - p.share);
    };
    // Both matches stand at the bow file's values, so only the slopes' differences tell them apart.
    EXPECT_NEAR(sigma(before), next.before, 1e-3 * next.before);
    EXPECT_NEAR(sigma(after), next.after, 1e-3 * next.before);
    EXPECT_LT(next.after, 0.9 * next.before);
}

TEST(Matching, ProposesOnlyWhatWasNotMeasured) {
    const Bow bow = small_uneven_bow();
    for (const NextMeasurement& next : matched(bow, sheet_of(bow, eight)).next) {
        for (const auto& [key, at] : eight) EXPECT_TRUE(at || next.quantity != key) << key;
        EXPECT_TRUE(!next.at || std::abs(*next.at - 400) >= units::inch);
    }
}

TEST(Matching, TheArrowRestIsMatchedOnlyWhereItWasMeasured) {
    const Bow bow = small_uneven_bow();
    const auto has_rest = [](const Match& match) {
        return std::ranges::any_of(match.parameters,
                                   [](const auto& p) { return p.parameter.key == "rest_height"; });
    };
    EXPECT_FALSE(has_rest(matched(bow, sheet_of(bow, eight))));
    BenchSheet sheet = sheet_of(bow, {{"rest_height", {}}});
    sheet.measurements[0].value += 4;
    const Match match = matched(bow, sheet);
    ASSERT_TRUE(has_rest(match));
    // σ₀ = 2 mm, σ = 0.5 mm: 16/17 of the way.
    EXPECT_NEAR(match.bow.shooter.rest.z(), bow.shooter.rest.z() + 4 * 16. / 17, 1e-3);
}

TEST(Matching, AnImpossibleNumberEndsWithAWarningAndAContradiction) {
    const Bow bow = small_uneven_bow();
    BenchSheet sheet = sheet_of(bow, eight);
    sheet.measurements[0].value += 100;  // four inches
    sheet.measurements[0].sigma = 0.1;
    const Match match = matched(bow, sheet);
    ASSERT_FALSE(match.warnings.empty());
    EXPECT_TRUE(
        match.warnings[0].starts_with("axle-to-axle has run to the end of what is tried, 8.0 standard"))
        << match.warnings[0];
    ASSERT_FALSE(match.contradictions.empty());
    EXPECT_EQ(match.contradictions[0].measurement, 0);
}

std::string why_not(const Bow& bow, const BenchSheet& sheet) {
    const auto answer = match(bow, sheet);
    const auto* no = std::get_if<NotMatched>(&answer);
    return no ? no->reason : "";
}

TEST(Matching, SaysWhyNothingCanBeMatched) {
    const Bow bow = small_uneven_bow();
    EXPECT_EQ(why_not(bow, {}), "nothing was measured");
    BenchSheet sheet = sheet_of(bow, eight);
    sheet.measurements.back().at = 200;
    EXPECT_NE(why_not(bow, sheet).find("a draw weight is told at a draw length of 200.0 mm, but at brace"),
              std::string::npos);
    Bow long_bow = bow;
    long_bow.brace.axle_to_axle = 2000;
    EXPECT_NE(why_not(long_bow, sheet).find("could not be strung"), std::string::npos);
}

/// One limb is a number stiffer than it says; it changes places with the one below it.
TEST(Matching, ASecondLayoutTellsMoreOfALimbThanTheFirstAlone) {
    Bow bow = small_uneven_bow();
    bow.layout.pairing = {52, 50, 49, 51};
    Bow truth = bow, swapped = bow;
    truth.layout.pairing.top_left = 53;
    swapped.layout.pairing = {49, 50, 53, 51};
    std::vector<BenchDay> days{{"first", bow.layout, sheet_of(truth, eight)},
                               {"second", bow.layout, sheet_of(swapped, eight)}};
    days[1].layout.pairing = {49, 50, 52, 51};
    const Match first = matched(bow, days[0].sheet);
    auto answer = match(bow, days);
    const auto& both = std::get<Match>(answer);
    const MatchedParameter &alone = parameter(first, "limb_number_top_left"),
                           &now = parameter(both, "limb_number_top_left");
    EXPECT_GT(now.share, alone.share + 0.1);
    EXPECT_EQ(now.verdict, Verdict::seen);
    EXPECT_NEAR(now.value, 53, 2 * now.sigma);
    EXPECT_EQ(both.measurements.size(), 16u);
    EXPECT_EQ(both.bow.layout.pairing.bottom_left, now.value);  // today's bow, the limb in its new pocket
}

}  // namespace
}  // namespace limbwright::models::calibration_test
