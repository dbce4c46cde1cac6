#include "models/matching/bow_log.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/complaint.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::bow_log_test {
namespace {

const Bow bow = testing::small_uneven_bow();

LogEntry measured(const std::string& date, double guide = 0) {
    LogEntry entry;
    entry.date = date;
    entry.layout = bow.layout;
    entry.layout.guide_lateral = guide;
    entry.measured = {{"axle_to_axle", {}, 838.2, 1}, {"draw_weight", 609.6, 250.5, 2.2}};
    return entry;
}

LogEntry planned(const std::string& date, double guide) {
    LogEntry entry = measured(date, guide);
    entry.measured.clear();
    entry.plan = {"guide 2 mm left", 0.75, 0.125, {{"peak_weight", {}, 300.25, 1.5}}};
    return entry;
}

std::string complaints_about(const std::string& text) {
    return testing::complaint<InputError>([&] { (void)log_from_toml(text, "log.toml", bow); });
}

TEST(BowLog, ReadsWhatItHasWritten) {
    LogEntry entry = measured("2026-11-25 18:40", -1.5);
    Layout& l = entry.layout;
    l.guide_angle = 0.02;
    l.bolt_top = 0.5;
    l.twist_string = 2;
    l.twist_cables = {1, -1};
    l.twist_yoke_left = {0.5, 0};
    l.twist_yoke_right = {0, 1.5};
    l.moved = {{"rest_lateral", 0.5}, {"rest_height", -0.25}};
    l.nocking_point = 1;
    entry.tear = Tear{.left = 25, .high = -3, .arrow = {}};
    entry.bow_sure = {{"guide_lateral", 3}, {"limb_stiffness", 0.04 * bow.limb.material.along}};
    entry.remark = "a \"quoted\" remark";
    const std::vector<LogEntry> log =
        log_from_toml(to_toml(entry, bow) + to_toml(planned("2026-11-25 18:41", 2), bow), "log.toml", bow);
    ASSERT_EQ(log.size(), 2u);
    EXPECT_EQ(log[0].date, entry.date);
    EXPECT_EQ(log[0].remark, entry.remark);
    EXPECT_TRUE(same_layout(bow, log[0].layout, entry.layout));
    EXPECT_DOUBLE_EQ(log[0].measured[1].value, 250.5);
    EXPECT_DOUBLE_EQ(*log[0].measured[1].at, 609.6);
    EXPECT_DOUBLE_EQ(log[0].bow_sure.at("limb_stiffness"), entry.bow_sure["limb_stiffness"]);
    EXPECT_EQ(log[0].tear->high, -3);
    EXPECT_FALSE(log[0].plan);
    ASSERT_TRUE(log[1].plan);
    EXPECT_EQ(log[1].plan->change, "guide 2 mm left");
    EXPECT_EQ(log[1].plan->answered, 0.75);
    EXPECT_EQ(log[1].plan->sure, 0.125);
    EXPECT_DOUBLE_EQ(log[1].plan->predicted[0].value, 300.25);
}

TEST(BowLog, TwoLogsPutOneAfterTheOtherAreInTheOrderOfTheirDates) {
    const std::string one =
        "# mine\n" + to_toml(measured("2026-11-02"), bow) + to_toml(planned("2026-11-04 09:00", 1), bow);
    const std::string other =
        "# yours\n" + to_toml(measured("2026-11-01"), bow) + to_toml(measured("2026-11-03 08:15"), bow);
    std::string dates;
    for (const LogEntry& entry : log_from_toml(one + other, "log.toml", bow)) dates += entry.date + ";";
    EXPECT_EQ(dates, "2026-11-01;2026-11-02;2026-11-03 08:15;2026-11-04 09:00;");
}

TEST(BowLog, WhatTwoLogsHaveInCommonCountsOnce) {
    const std::string common = to_toml(measured("2026-11-01"), bow);
    const std::string one = common + to_toml(measured("2026-11-02"), bow);
    const std::string other = common + to_toml(measured("2026-11-02", 1), bow);
    EXPECT_EQ(log_from_toml(one + other, "log.toml", bow).size(), 3u);
}

TEST(BowLog, TellsEveryMistakeWithItsLine) {
    const std::string text =
        "[[entry]]\n"
        "date = \"25.11.2026\"\n"
        "limbs = { top_left = 50, top_right = 50, bottom_left = 50, bottom_right = 50 }\n"
        "spacers_top = { left = [\"2 mm\"], right = [\"2\"] }\n"
        "spacers_bottom = { left = [\"2 mm\"], right = [\"2 mm\"] }\n"
        "guide_latteral = \"1 mm\"\n"
        "measured = [ { quantity = \"colour\", is = \"1 mm\", sure = \"1 mm\" } ]\n";
    const std::string said = complaints_about(text);
    for (const char* words : {"log.toml:2:", "must be a date such as",
                              "log.toml:4:", "log.toml:6:", "guide_lateral", "log.toml:7:", "\"colour\""})
        EXPECT_NE(said.find(words), std::string::npos) << words << "\n" << said;
}

TEST(BowLog, AFileThatCannotBeReadIsWrongInput) {
    const std::string said = testing::complaint<InputError>([] { (void)read_log("/nowhere/log.toml", bow); });
    EXPECT_NE(said.find("/nowhere/log.toml"), std::string::npos) << said;
}

TEST(BowLog, MeasurementsKnowTheirLine) {
    const std::vector<LogEntry> log = log_from_toml(to_toml(measured("2026-11-02"), bow), "log.toml", bow);
    EXPECT_EQ(log[0].measured[1].line, log[0].measured[0].line + 1);
    EXPECT_GT(log[0].measured[0].line, log[0].line);
}

TEST(BowLog, EntriesOfOneLayoutThatFollowEachOtherAreOneDay) {
    const std::vector<BenchDay> days =
        days_of({measured("2026-11-01"), planned("2026-11-02", 2), measured("2026-11-03"),
                 measured("2026-11-04", 2), measured("2026-11-05")},
                bow);
    ASSERT_EQ(days.size(), 3u);
    EXPECT_EQ(days[0].sheet.measurements.size(), 4u);
    EXPECT_EQ(days[1].layout.guide_lateral, 2);
    EXPECT_EQ(days[2].name, "2026-11-05");
}

TEST(BowLog, TheBowStandsAsTheLastEntryLeavesIt) {
    EXPECT_EQ(layout_after({}, bow).pairing.top_left, bow.layout.pairing.top_left);
    EXPECT_EQ(layout_after({measured("2026-11-01"), planned("2026-11-02", 2)}, bow).guide_lateral, 2);
}

TEST(Date, IsOneThatTheCalendarHas) {
    for (const char* good : {"2026-11-25", "2024-02-29", "2026-11-25 00:00", "2026-11-25 23:59"})
        EXPECT_TRUE(is_date(good)) << good;
    for (const char* bad :
         {"", "2026-13-01", "2026-02-29", "26-11-25", "2026-11-25 24:00", "2026-11-25T10:00"})
        EXPECT_FALSE(is_date(bad)) << bad;
}

}  // namespace
}  // namespace limbwright::models::bow_log_test
