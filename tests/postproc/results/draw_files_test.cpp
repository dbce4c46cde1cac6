#include "postproc/results/draw_files.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "tests/postproc/outside.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::draw_files_test {
namespace {

using tests::content;
using tests::TemporaryFolder;

TEST(DrawFiles, AreAllWrittenAndNamed) {
    const models::Stringing stringing = models::string_up(models::assemble(testing::small_bow()));
    const models::StrungBow& strung = std::get<models::StrungBow>(stringing);
    const models::Draw draw = models::draw(strung);
    const TemporaryFolder folder;
    const std::vector<std::filesystem::path> written =
        write_draw_files(measured(strung, draw), folder.path(), "bow", "its text");
    for (const char* name : {"bow.h5", "bow.pvd", "bow.json", "side.svg", "behind.svg", "force.svg",
                             "lean.svg", "nock_travel.svg"}) {
        EXPECT_TRUE(std::filesystem::exists(folder / name)) << name;
        EXPECT_EQ(std::ranges::count(written, folder / name), 1) << name;
    }
    EXPECT_EQ(nlohmann::json::parse(content(folder / "bow.json"))["schema"], "limbwright draw");
}

TEST(DrawFiles, AFolderIsMadeWithThoseAboveIt) {
    const TemporaryFolder folder;
    make_folder(folder / "deep/deeper");
    make_folder(folder / "deep/deeper");
    EXPECT_TRUE(std::filesystem::is_directory(folder / "deep/deeper"));
}

TEST(DrawFiles, AFolderThatCannotBeMadeIsNamed) {
    const TemporaryFolder folder;
    std::ofstream(folder / "file") << "no folder";
    try {
        make_folder(folder / "file/out");
        FAIL() << "a folder inside a file";
    } catch (const std::runtime_error& error) {
        EXPECT_NE(std::string(error.what()).find((folder / "file/out").string()), std::string::npos);
    }
}

}  // namespace
}  // namespace limbwright::postproc::draw_files_test
