#include "postproc/results/row_store.hpp"

#include <gtest/gtest.h>

#include <cstring>

#include "tests/postproc/outside.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::postproc::row_store_test {
namespace {

using models::Study;
using testing::small_base;
using tests::TemporaryFolder;

constexpr std::uint64_t study = 42;

StudyRows rows_in(const TemporaryFolder& folder, bool store = true) {
    return {small_base(), study, folder / "rows", {}, store};
}

std::uint64_t basis(const Study& changed, const models::Bow& bow = testing::crossed_bow()) {
    return fingerprint(row_basis(bow, changed, models::columns_of(changed, small_base().today().bow)));
}

TEST(StudyRows, AreSolvedOnceAndKeptOnDisk) {
    const TemporaryFolder folder;
    const std::vector<std::int64_t> numbers{3, 5, 30};
    const std::vector<models::LayoutRow> solved = rows_in(folder).solve(numbers, {});
    StudyRows again = rows_in(folder);
    EXPECT_EQ(again.size(), 3u);
    const std::atomic<bool> stop = true;  // so nothing can be solved
    const std::vector<models::LayoutRow> kept = again.solve(numbers, {.stop = &stop});
    ASSERT_EQ(kept.size(), 3u);
    for (std::size_t i = 0; i < kept.size(); ++i) {
        EXPECT_EQ(kept[i].number, numbers[i]);
        EXPECT_EQ(kept[i].values, solved[i].values);
    }
}

TEST(StudyRows, AStopIsThrown) {
    const TemporaryFolder folder;
    const std::atomic<bool> stop = true;
    const std::vector<std::int64_t> numbers{0};
    StudyRows rows = rows_in(folder);
    EXPECT_THROW((void)rows.solve(numbers, {.stop = &stop}), Stopped);
}

TEST(StudyRows, EveryShareHasItsFileAndReadsTheOthers) {
    const TemporaryFolder folder;
    const std::vector<std::int64_t> numbers{7};
    StudyRows second(small_base(), study, folder / "rows", {2, 3, 1}, true);
    (void)second.solve(numbers, {});
    EXPECT_TRUE(std::filesystem::exists(folder / "rows/rows_2_of_3.bin"));
    EXPECT_EQ(rows_in(folder).size(), 1u);
}

TEST(StudyRows, NothingIsWrittenWhereNothingShallBe) {
    const TemporaryFolder folder;
    const std::vector<std::int64_t> numbers{7};
    EXPECT_EQ(rows_in(folder, false).solve(numbers, {}).size(), 1u);
    EXPECT_EQ(folder.entries(), 0);
}

TEST(StudyRows, OtherWishesNeedNoOtherRows) {
    Study changed = testing::small_study();
    changed.name = "another name";
    changed.aims[0].weight = 7;
    changed.aims[0].target = 1;
    changed.limits = {{.quantity = {.measure = "lean_top", .less = ""}, .at_most = 1}};
    changed.keep = 2;
    EXPECT_EQ(basis(changed), basis(testing::small_study()));
}

TEST(StudyRows, WhateverChangesValuesOrTheirNumbersChangesTheBasis) {
    const std::uint64_t before = basis(testing::small_study());
    const auto expect_change = [&](const auto& change) {
        Study changed = testing::small_study();
        change(changed);
        EXPECT_NE(basis(changed), before);
    };
    expect_change([](Study& s) { s.limbs = {51, 49, 50, 52}; });
    expect_change([](Study& s) { s.spacers = {{1.5, 4}, {2.5, 4}}; });
    expect_change([](Study& s) { s.ranges[0].steps.to = 2; });
    expect_change([](Study& s) { s.lengths = models::LengthRule::re_timed; });
    expect_change([](Study& s) { s.states = 5; });
    expect_change([](Study& s) { s.aims[0].quantity.at = models::DrawPlace::peak; });
}

TEST(StudyRows, AGrooveInItsOwnFileChangesTheBasis) {
    models::Bow bow = testing::crossed_bow();
    models::Track& string = bow.cam_top.string;
    ASSERT_TRUE(string.traced || string.support);
    if (string.traced) string.traced->points[3].x() += 0.01;
    if (string.support) string.support->distance[3] += 0.01;
    EXPECT_NE(basis(testing::small_study(), bow), basis(testing::small_study()));
}

}  // namespace
}  // namespace limbwright::postproc::row_store_test
