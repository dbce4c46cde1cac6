#include "postproc/commands/bench_session.hpp"

#include <gtest/gtest.h>

#include "postproc/output/usage_error.hpp"
#include "tests/postproc/program.hpp"

namespace limbwright::postproc::bench_session_test {
namespace {

/// A small bow, its first measurements, and its log.
struct Start : tests::Bench {
    std::filesystem::path bench = tests::written(folder / "bench.toml", "axle_to_axle = \"840 mm\"\n");
    SessionArguments arguments;

    Start() {
        arguments.bow = bow;
        arguments.log = folder / "log.toml";
        arguments.bench = bench;
        arguments.tail = "left";
        arguments.size = 25;
        arguments.date = "2026-11-25";
    }
    void enter() const {
        const Session session = read_session(arguments);
        append_to_log(arguments.log, {session.log.back()}, session.bow);
    }
    /// A guide that goes 2 mm to the left.
    void plan() const {
        const Session session = read_session(arguments);
        models::LogEntry plan = session.log.back();
        plan.measured.clear();
        plan.tear.reset();
        plan.layout.guide_lateral = 2;
        plan.plan.emplace();
        append_to_log(arguments.log, {plan}, session.bow);
    }
};

std::string refusal(const SessionArguments& arguments) {
    try {
        (void)read_session(arguments);
    } catch (const UsageError& error) {
        return error.sentence;
    }
    return "none";
}

TEST(BenchSession, TakesTodaysNumbersAndTearAsANewEntry) {
    const Start start;
    const Session session = read_session(start.arguments);
    EXPECT_TRUE(session.entered);
    ASSERT_EQ(session.days.size(), 1u);
    EXPECT_EQ(session.days[0].sheet.measurements[0].value, 840);
    EXPECT_EQ(session.tear->left, 25);
    EXPECT_TRUE(session.measured());
}

TEST(BenchSession, EntersTheSameNumbersAndTearOnlyOnce) {
    const Start start;
    start.enter();
    EXPECT_FALSE(read_session(start.arguments).entered);
    start.plan();
    const Session again = read_session(start.arguments);
    EXPECT_FALSE(again.entered);
    EXPECT_EQ(again.days.back().layout.guide_lateral, 0);
}

TEST(BenchSession, WhatIsMeasuredAfterAPlanIsOfTheNewLayout) {
    Start start;
    start.enter();
    start.plan();
    start.arguments.size = 10;
    EXPECT_EQ(read_session(start.arguments).days.back().layout.guide_lateral, 2);
    start.arguments.not_rebuilt = true;
    EXPECT_EQ(read_session(start.arguments).days.back().layout.guide_lateral, 0);
}

TEST(BenchSession, WithoutAnythingNewIsTheLogAsItIs) {
    Start start;
    start.enter();
    start.plan();
    SessionArguments nothing;
    nothing.bow = start.arguments.bow;
    nothing.log = start.arguments.log;
    const Session session = read_session(nothing);
    EXPECT_FALSE(session.entered);
    EXPECT_EQ(session.log.size(), 2u);
    EXPECT_EQ(session.tear->left, 25);  // of the bow as it stands
    EXPECT_EQ(session.days.back().layout.guide_lateral, 0);
}

TEST(BenchSession, AHoleWithoutATearIsOne) {
    Start start;
    start.arguments.tail = "none";
    start.arguments.size.reset();
    EXPECT_EQ(read_session(start.arguments).tear->size(), 0);
}

TEST(BenchSession, RefusesADateThatIsNoneOrComesTooLate) {
    Start start;
    start.enter();
    start.arguments.size = 10;
    start.arguments.date = "yesterday";
    EXPECT_TRUE(tests::says(refusal(start.arguments), "--date must be a date")) << refusal(start.arguments);
    start.arguments.date = "2026-11-24";
    EXPECT_TRUE(tests::says(refusal(start.arguments), "lies before the log's last entry, 2026-11-25"));
}

TEST(BenchSession, ALogKeepsWhatStoodInIt) {
    const Start start;
    tests::written(start.arguments.log, "# by hand, without a line's end");
    start.enter();
    EXPECT_TRUE(tests::content(start.arguments.log).starts_with("# by hand, without a line's end\n"));
    EXPECT_EQ(read_session(start.arguments).log.size(), 1u);
}

}  // namespace
}  // namespace limbwright::postproc::bench_session_test
