#include "postproc/results/row_store.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/postproc/outside.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::postproc::row_store_test {
namespace {

using models::Study;
using testing::small_base;
using tests::TemporaryFolder;

constexpr std::uint64_t study = 42;

RowStore store_in(const TemporaryFolder& folder, const Shard& shard = {}, bool store = true) {
    return {study, 2, folder / "rows", shard, store};
}

const std::vector<models::LayoutRow> rows{{3, {0.5, NAN}, ""}, {5, {}, "slack"}, {30, {1, 2}, ""}};

std::uint64_t basis(const Study& changed, const models::Bow& bow = testing::crossed_bow()) {
    return fingerprint(row_basis(bow, changed, models::columns_of(changed, small_base().today().bow)));
}

TEST(RowStore, FindsWhatAnEarlierRunLeft) {
    const TemporaryFolder folder;
    store_in(folder).append(rows);
    const std::vector<models::LayoutRow> found = store_in(folder).found();
    ASSERT_EQ(found.size(), 3u);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        EXPECT_EQ(found[i].number, rows[i].number);
        EXPECT_EQ(found[i].failure, rows[i].failure);
    }
    EXPECT_EQ(found[2].values, rows[2].values);
}

TEST(RowStore, EveryShareHasItsFileAndReadsTheOthers) {
    const TemporaryFolder folder;
    store_in(folder, {2, 3, 1}).append(rows);
    EXPECT_TRUE(std::filesystem::exists(folder / "rows/rows_2_of_3.bin"));
    EXPECT_EQ(store_in(folder).found().size(), 3u);
}

TEST(RowStore, NothingIsWrittenWhereNothingShallBe) {
    const TemporaryFolder folder;
    store_in(folder, {}, false).append(rows);
    EXPECT_EQ(folder.entries(), 0);
}

TEST(RowBasis, OtherWishesNeedNoOtherRows) {
    Study changed = testing::small_study();
    changed.name = "another name";
    changed.aims[0].weight = 7;
    changed.aims[0].target = 1;
    changed.limits = {{.quantity = {.measure = "cam lean, top", .less = ""}, .at_most = 1}};
    changed.keep = 2;
    EXPECT_EQ(basis(changed), basis(testing::small_study()));
}

TEST(RowBasis, WhateverChangesValuesOrTheirNumbersChangesTheBasis) {
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

TEST(RowBasis, AGrooveInItsOwnFileChangesTheBasis) {
    models::Bow bow = testing::crossed_bow();
    models::Track& string = bow.cam_top.string;
    ASSERT_TRUE(string.traced || string.support);
    if (string.traced) string.traced->points[3].x() += 0.01;
    if (string.support) string.support->distance[3] += 0.01;
    EXPECT_NE(basis(testing::small_study(), bow), basis(testing::small_study()));
}

}  // namespace
}  // namespace limbwright::postproc::row_store_test
