#include "models/matching/tear_answer.hpp"

#include <gtest/gtest.h>

#include "models/matching/observables.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::tear_answer_test {
namespace {

const Bow bow = testing::small_uneven_bow();

BenchDay day(double guide, std::vector<Measurement> measurements) {
    BenchDay made{"day", {.layout = bow.layout}, {}};
    made.tune.layout.guide_lateral = guide;
    made.record.measurements = std::move(measurements);
    return made;
}

KnownBow known(const std::vector<BenchDay>& days) {
    return std::get<KnownBow>(known_bow(bow, days));
}

TEST(KnownBow, IsTheBowFilesInTodaysLayoutWhereNothingWasMeasured) {
    const KnownBow today = known({day(0, {}), day(1, {})});
    EXPECT_FALSE(today.match.has_value());
    EXPECT_EQ(today.bow.layout.guide_lateral, 1);
    EXPECT_EQ(today.solver().today().tune.layout.guide_lateral, 1);
}

/// An axle-to-axle length that is 3 mm off its bow file's, and much surer.
TEST(KnownBow, IsMatchedToWhatWasMeasured) {
    const double labelled = axle_to_axle(known({day(0, {})}).solver().today().strung.bow,
                                         known({day(0, {})}).solver().today().strung.brace.state);
    const KnownBow today = known({day(0, {{"axle_to_axle", {}, labelled + 3, 0.1}})});
    ASSERT_TRUE(today.match.has_value());
    EXPECT_EQ(today.measured.size(), 1u);
    const TuneSolver solver = today.solver();
    // Two standard deviations of the measurement.
    EXPECT_NEAR(axle_to_axle(solver.today().strung.bow, solver.today().strung.brace.state), labelled + 3,
                0.2);
}

TEST(KnownBow, SaysWhyItCouldNotBeMatched) {
    const auto answer = known_bow(bow, {day(0, {{"draw_weight", 1, 200, 2}})});
    EXPECT_NE(std::get<NotMatched>(answer).reason, "");
}

TEST(TearAnswer, KnowsHowSureItsCuresAreWhereTheBowIsMatched) {
    const Tear tear = *tear_of("left", 25);
    for (const Cure& cure : answer_tear(known({day(0, {})}), tear, {.threads = 2}).cures.ranked)
        EXPECT_FALSE(cure.foresight.has_value());
    const KnownBow matched = known({day(0, {{"peak_weight", {}, 300, 5}})});
    const TearAnswer answer = answer_tear(matched, tear, {.threads = 2});
    ASSERT_FALSE(answer.cures.ranked.empty());
    for (const Cure& cure : answer.cures.ranked) EXPECT_GT(cure.foresight.value().answered_sigma, 0);
    EXPECT_FALSE(answer.practice.empty());
    EXPECT_FALSE(answer.shaft.has_value());
    const Cures alone = find_cures(matched, tear, {});
    ASSERT_EQ(alone.ranked.size(), answer.cures.ranked.size());
    EXPECT_EQ(alone.ranked[0].foresight->answered_sigma, answer.cures.ranked[0].foresight->answered_sigma);
}

TEST(TearAnswer, ChecksTheShaftWhereTheArrowIsKnown) {
    Tear tear = *tear_of("left", 25);
    tear.arrow.emplace();
    EXPECT_TRUE(answer_tear(TuneSolver(bow, 9), tear, {.threads = 2}).shaft.has_value());
}

}  // namespace
}  // namespace limbwright::models::tear_answer_test
