#include "postproc/results/row_store.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <set>
#include <utility>

#include "postproc/output/atomic_file.hpp"
#include "solver/lanes/lane_solver.hpp"
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
    changed.limits = {{.quantity = {.measure = "lean_top", .less = ""}, .at_most = 1}};
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

TEST(StudyRows, WhatAMeshFileSaysChangesTheBasis) {
    const auto basis_of = [](const auto& change) {
        meshes::Surface mesh;
        mesh.nodes = {{{}, {0, 0, 0}}, {{}, {9, 0, 0}}, {{}, {0, 9, 0}}, {{}, {0, 0, 9}}};
        mesh.cells = {{.corners = {0, 1, 2, -1}, .thickness = 2}};
        mesh.sets = {{"grip", {0, 1}}};
        change(mesh);
        models::Bow bow = testing::crossed_bow();
        bow.riser.mesh = {"riser.vtu", std::make_shared<meshes::Surface>(mesh)};
        const std::uint64_t of_riser = basis(testing::small_study(), bow);
        std::swap(bow.riser.mesh, bow.limb.mesh);
        return std::pair(of_riser, basis(testing::small_study(), bow));
    };
    const auto before = basis_of([](meshes::Surface&) {});
    const auto expect_change = [&](const auto& change) {
        const auto after = basis_of(change);
        EXPECT_NE(after.first, before.first);
        EXPECT_NE(after.second, before.second);
    };
    expect_change([](meshes::Surface& m) { m.nodes[2].position.y() += 1e-12; });
    expect_change([](meshes::Surface& m) { m.nodes.pop_back(); });
    expect_change([](meshes::Surface& m) { m.cells[0].corners[2] = 3; });
    expect_change([](meshes::Surface& m) { m.cells[0].thickness = 2.5; });
    expect_change([](meshes::Surface& m) { m.cells[0].direction = {0, 1, 0}; });
    expect_change([](meshes::Surface& m) { m.sets["grip"] = {0, 2}; });
}

TEST(StudyRows, TheBasisNamesTheKernelsOfThisProcessorAndTheSources) {
    const std::string text = row_basis(testing::crossed_bow(), testing::small_study(), {});
    for (const solver::LaneKernel& kernel : solver::lane_kernels())
        EXPECT_EQ(text.find("kernel " + kernel.name + "\n") != std::string::npos, kernel.runs_here);
    EXPECT_EQ(source_hash.size(), 64u);
    EXPECT_NE(text.find(source_hash), std::string::npos);
}

/// What the build's script makes of the folders "low" and "middle" of a house.
std::string hashed(const TemporaryFolder& house, const std::string& compiled = "with a compiler") {
    const TemporaryFolder out;
    const tests::Outcome outcome =
        tests::run(fmt::format("cmake -D OUTPUT={} -D ROOT={} '-DFOLDERS=low|middle' '-DCOMPILED={}' -P "
                               "{}/postproc/results/source_hash.cmake",
                               (out / "hash.cpp").string(), house.path().string(), compiled, SOURCE_DIR));
    EXPECT_TRUE(outcome.succeeded) << outcome.output;
    return tests::content(out / "hash.cpp");
}

TEST(SourceHash, ChangesWithEverySourceBelowAndTheCompilerAndWithNothingElse) {
    const TemporaryFolder house;
    for (const char* folder : {"low/room", "middle", "high"})
        std::filesystem::create_directories(house / folder);
    for (const char* file : {"low/room/a.cpp", "low/room/a.hpp", "middle/b.cpp", "high/c.cpp"})
        write_text(house / file, "int a;\n");
    std::set<std::string> seen{hashed(house)};
    write_text(house / "high/c.cpp", "int c;\n");
    write_text(house / "low/room/a.cpp", "int a;\n");  // touched, not changed
    EXPECT_TRUE(seen.contains(hashed(house)));
    for (const char* file : {"low/room/a.cpp", "low/room/a.hpp", "middle/b.cpp", "middle/new.cpp"}) {
        write_text(house / file, "int b;\n");
        EXPECT_TRUE(seen.insert(hashed(house)).second) << file;
    }
    EXPECT_TRUE(seen.insert(hashed(house, "with another")).second);
}

}  // namespace
}  // namespace limbwright::postproc::row_store_test
