#include "postproc/results/ranking_files.hpp"

#include <gtest/gtest.h>

#include "tests/postproc/outside.hpp"
#include "tests/postproc/results/made_up_ranking.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::postproc::ranking_files_test {
namespace {

namespace fs = std::filesystem;
using tests::content;
using tests::TemporaryFolder;

const RankingResults& results() {
    static const RankingResults made = [] {
        const std::vector<models::LayoutRow> rows = testing::small_rows(8);
        return results_of(testing::small_base(), models::ranked(testing::small_base(), rows, rows[0]));
    }();
    return made;
}

std::vector<models::FullDraw> draws(int count) {
    return models::full_draws(testing::small_base(), results(), count);
}

TEST(RankingFiles, StandInTheFolderAndThoseOfEachDrawInItsOwn) {
    const TemporaryFolder folder;
    const std::vector<fs::path> written = write_ranking_files(results(), draws(1), folder.path(), "crossed");
    for (const fs::path& path : written) EXPECT_TRUE(fs::exists(path)) << path;
    for (const char* name : {"ranking.h5", "ranking.json", "nock_travel.svg", "force.svg", "forgiveness.svg",
                             "best_1/crossed.pvd", "best_1/crossed.h5", "best_1/side.svg"})
        EXPECT_TRUE(fs::exists(folder / name)) << name;
    EXPECT_NE(content(folder / "forgiveness.svg").find("best 1"), std::string::npos);
}

TEST(RankingFiles, WhereNoSpacersVaryThereIsNoMap) {
    const TemporaryFolder folder;
    std::ofstream(folder / "score_map.svg") << "of an earlier study";
    (void)write_ranking_files(results(), draws(0), folder.path(), "crossed");
    EXPECT_FALSE(fs::exists(folder / "score_map.svg"));
}

TEST(RankingFiles, WhereSpacersVaryThereAreMaps) {
    const TemporaryFolder folder;
    (void)write_ranking_files(testing::made_up_ranking(), draws(0), folder.path(), "crossed");
    for (const char* name : {"lean_map_top.svg", "lean_map_bottom.svg", "score_map.svg"})
        EXPECT_TRUE(tests::parsed_as_xml(content(folder / name)).succeeded) << name;
}

TEST(RankingFiles, DrawsOfAnEarlierRunThatDrewMoreAreGone) {
    const TemporaryFolder folder;
    for (const char* name : {"best_2", "best_3", "mine"}) fs::create_directory(folder / name);
    (void)write_ranking_files(results(), draws(1), folder.path(), "crossed");
    EXPECT_TRUE(fs::exists(folder / "best_1"));
    EXPECT_FALSE(fs::exists(folder / "best_2"));
    EXPECT_FALSE(fs::exists(folder / "best_3"));
    EXPECT_TRUE(fs::exists(folder / "mine"));
}

}  // namespace
}  // namespace limbwright::postproc::ranking_files_test
