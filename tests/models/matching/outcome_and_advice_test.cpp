#include "models/matching/outcome_and_advice.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_bow.hpp"

namespace limbwright::models::outcome_and_advice_test {
namespace {

const Bow bow = testing::small_uneven_bow();

LogEntry entry(const std::string& date, double guide, std::optional<double> tail_left) {
    LogEntry made;
    made.date = date;
    made.layout = bow.layout;
    made.layout.guide_lateral = guide;
    if (tail_left) made.tear = Tear{.left = *tail_left, .arrow = {}};
    return made;
}

/// Measured, planned as 80 ± 5 % of the tear and a peak of 300 ± 3 N, measured again.
std::vector<LogEntry> rebuilt(double peak, double tail_left) {
    std::vector<LogEntry> log{entry("2026-11-01", 0, 25), entry("2026-11-02", 2, {}),
                              entry("2026-11-03", 2, tail_left)};
    log[1].plan = {"guide 2 mm left", 0.8, 0.05, {{"peak_weight", {}, 300, 3}, {"brace_height", {}, 172, 1}}};
    log[2].measured = {{"peak_weight", {}, peak, 4}, {"let_off", {}, 70, 1}};
    return log;
}

Cure cure(double answered, double sigma) {
    Cure made;
    made.text = "a change";
    made.answered = answered;
    made.answered_sigma = sigma;
    return made;
}

Advice said(const std::vector<LogEntry>& log, const std::vector<Cure>& cures,
            const std::vector<Foresight>& foresights, const Match& match = {}) {
    return advice(outcome_of(log, bow), log.back().tear, match, cures, foresights);
}

TEST(Outcome, HoldsWhatWasPredictedAgainstWhatWasMeasured) {
    const std::vector<LogEntry> log = rebuilt(310, 5);
    const Outcome outcome = outcome_of(log, bow);
    ASSERT_EQ(outcome.plan, &log[1]);
    ASSERT_EQ(outcome.numbers.size(), 1u);
    EXPECT_EQ(outcome.numbers[0].name, "peak weight");
    EXPECT_DOUBLE_EQ(outcome.numbers[0].sigmas(), 2);  // 10 N over √(3² + 4²) N
    EXPECT_TRUE(outcome.numbers[0].within());
    ASSERT_TRUE(outcome.tear);
    EXPECT_DOUBLE_EQ(outcome.tear->measured, 0.8);
}

TEST(Outcome, OfATearThatTurnedOverIsMoreThanAllOfIt) {
    const std::vector<LogEntry> log = rebuilt(300, -5);
    EXPECT_DOUBLE_EQ(outcome_of(log, bow).tear->measured, 1.2);
}

TEST(Outcome, IsNoneWherePlanAndLayoutDiffer) {
    std::vector<LogEntry> log = rebuilt(300, 5);
    log[2].layout.guide_lateral = 1;
    EXPECT_EQ(outcome_of(log, bow).plan, nullptr);
    log.pop_back();
    EXPECT_EQ(outcome_of(log, bow).plan, nullptr);  // not carried out yet
    EXPECT_EQ(outcome_of({}, bow).plan, nullptr);
}

TEST(Advice, IsToStopWhereTheTearIsGone) {
    const Advice advice = said(rebuilt(300, 5), {cure(0.9, 0.1)}, {});
    EXPECT_EQ(advice.next, Next::stop);
    EXPECT_NE(advice.sentence.find("is gone"), std::string::npos);
}

TEST(Advice, NamesThePredictionThatTheBowContradicts) {
    const Advice advice = said(rebuilt(320, 10), {cure(0.9, 0.1)}, {});
    EXPECT_EQ(advice.next, Next::contradiction);
    EXPECT_NE(advice.sentence.find("peak weight came out 4.0 standard deviations"), std::string::npos)
        << advice.sentence;
}

TEST(Advice, NamesTheMeasurementThatContradictsTheOthers) {
    Match match;
    match.contradictions.push_back({0, 0, 0, 0, "let-off was measured as 7 %."});
    const Advice advice = said(rebuilt(300, 10), {cure(0.9, 0.1)}, {}, match);
    EXPECT_EQ(advice.next, Next::contradiction);
    EXPECT_NE(advice.sentence.find("let-off was measured as 7 %."), std::string::npos);
}

/// 25 mm to 24 mm is 4 % gone, ± 22 %; 80 ± 5 % were predicted.
TEST(Advice, SaysThatATearWhichStaysContradictsTheModel) {
    const Advice advice = said(rebuilt(300, 24), {cure(0.9, 0.1)}, {});
    EXPECT_EQ(advice.next, Next::contradiction);
    EXPECT_NE(advice.sentence.find("Of the tear 4 % is gone, but 80 % were predicted"), std::string::npos)
        << advice.sentence;
}

TEST(Advice, IsTheFirstCureThatAnswersEnoughElseTheOneThatAnswersMost) {
    const std::vector<LogEntry> log = rebuilt(300, 10);
    EXPECT_EQ(said(log, {cure(0.5, 0.1), cure(0.92, 0.1), cure(0.97, 0.1)}, {}).cure, 2);
    EXPECT_EQ(said(log, {cure(0.5, 0.1), cure(0.7, 0.1), cure(0.6, 0.1)}, {}).cure, 2);
    EXPECT_EQ(said(log, {cure(0.5, 0.1)}, {}).next, Next::cure);
}

TEST(Advice, IsToMeasureFirstWhatMakesTheCureSurer) {
    const std::vector<LogEntry> log = rebuilt(300, 10);
    const Advice unsure = said(log, {cure(0.9, 0.9)}, {{{}, "arrow rest, lateral", 0.3}});
    EXPECT_EQ(unsure.next, Next::measure);
    EXPECT_NE(unsure.sentence.find("Measure first: arrow rest, lateral; that makes it ± 30 %"),
              std::string::npos)
        << unsure.sentence;
    EXPECT_EQ(said(log, {cure(0.9, 0.9)}, {{{}, "arrow rest, lateral", 0.85}}).next, Next::cure);
    EXPECT_EQ(said(log, {cure(0.9, 0.2)}, {{{}, "arrow rest, lateral", 0.1}}).next, Next::cure);
}

TEST(Advice, IsToShootWhereNoTearIsKnown) {
    std::vector<LogEntry> log = rebuilt(300, 10);
    log.back().tear.reset();
    EXPECT_EQ(said(log, {}, {}).next, Next::measure);
}

}  // namespace
}  // namespace limbwright::models::outcome_and_advice_test
