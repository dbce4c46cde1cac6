#include "models/bow/groove_names.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include <filesystem>
#include <fstream>

#include "models/bow/bow_file.hpp"
#include "models/bow/upside_down_cam.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::groove_names_test {
namespace {

const std::vector<Vec2> square{Vec2(40, 0), Vec2(0, 41), Vec2(-42, 0), Vec2(0, -39)};

Bow bow_with_traced_top() {
    Bow bow = bow_from_toml(crossed_bow_text, "bow.toml");
    bow.cam_top.string.circle.reset();
    bow.cam_top.string.traced = Track::Traced{.file = "top.csv", .points = square};
    bow.cam_top.let_out->circle.reset();
    bow.cam_top.let_out->support =
        Track::Support{.file = {}, .direction = {-1, 0, 2}, .distance = {10, 11, 12}};
    bow.cam_bottom = flipped(bow.cam_top);
    return bow;
}

Bow written_and_read(const Bow& bow) {
    const std::filesystem::path folder = std::filesystem::temp_directory_path() / "groove_names_test";
    std::filesystem::create_directories(folder);
    for (const GrooveFile& file : groove_files(bow)) std::ofstream(folder / file.name) << file.text;
    Bow read = bow_from_toml(bow_to_toml(bow), folder / "bow.toml");
    std::filesystem::remove_all(folder);
    return read;
}

TEST(GrooveNames, AFlippedBottomCamIsLeftOut) {
    EXPECT_EQ(bow_to_toml(bow_with_traced_top()).find("[cam.bottom"), std::string::npos);
}

TEST(GrooveNames, ABottomCamOfItsOwnIsWritten) {
    Bow bow = bow_with_traced_top();
    bow.cam_bottom.hub = 25;
    EXPECT_NE(bow_to_toml(bow).find("[cam.bottom]\nhub = \"25 mm\""), std::string::npos);
}

TEST(GrooveNames, ABottomGrooveThatDiffersIsWritten) {
    Bow bow = bow_with_traced_top();
    bow.cam_bottom.string.traced->points[0].x() += 1;
    EXPECT_NE(bow_to_toml(bow).find("[cam.bottom]"), std::string::npos);
}

TEST(GrooveNames, TheCamsOfAMixedBowAreWrittenEvenWhenAlike) {
    Bow bow = bow_with_traced_top();
    bow.cables.system = CableSystem::mixed;
    EXPECT_NE(bow_to_toml(bow).find("[cam.bottom]"), std::string::npos);
}

TEST(GrooveNames, GroovesKeepTheirFilesNameOrGetOne) {
    const std::vector<GrooveFile> files = groove_files(bow_with_traced_top());
    ASSERT_EQ(files.size(), 2u);
    EXPECT_EQ(files[0].name, "top.csv");
    EXPECT_EQ(files[0].text, "u_mm,v_mm\n40,0\n0,41\n-42,0\n0,-39\n");
    EXPECT_EQ(files[1].name, "cam_top_let_out.csv");
}

TEST(GrooveNames, TwoGroovesNeverShareAFile) {
    Bow bow = bow_with_traced_top();
    bow.cam_bottom.hub = 25;  // so that the bottom cam, whose points are flipped, is written
    const std::vector<GrooveFile> files = groove_files(bow);
    ASSERT_EQ(files.size(), 4u);
    EXPECT_EQ(files[2].name, "cam_bottom_string.csv");
    EXPECT_EQ(files[3].name, "cam_bottom_let_out.csv");
}

TEST(GrooveNames, GroovesReadBackFromTheirFiles) {
    Bow bow = bow_with_traced_top();
    std::vector<Vec2> ring;
    Track::Support table{.file = {}, .direction = {}, .distance = {}};
    for (int i = 0; i < 36; ++i) {
        const double direction = 2 * std::numbers::pi * i / 36;
        ring.emplace_back(40 * std::cos(direction), 40 * std::sin(direction));
        table.direction.push_back(direction);
        table.distance.push_back(11 + std::cos(direction));
    }
    bow.cam_top.string.traced->points = ring;
    bow.cam_top.let_out->support = table;
    bow.cam_bottom = flipped(bow.cam_top);
    bow.cam_bottom.hub = 25.9;
    const Bow read = written_and_read(bow);
    ASSERT_EQ(read.cam_top.string.traced->points.size(), 36u);
    // Files keep all but the last one or two bits.
    for (std::size_t i = 0; i < 36; ++i) {
        EXPECT_LT((read.cam_top.string.traced->points[i] - ring[i]).norm(), 1e-12);
        EXPECT_LT((read.cam_bottom.string.traced->points[i] - bow.cam_bottom.string.traced->points[i]).norm(),
                  1e-12);
        EXPECT_NEAR(read.cam_top.let_out->support->distance[i], table.distance[i], 1e-12);
        EXPECT_NEAR(read.cam_top.let_out->support->direction[i], table.direction[i], 1e-12);
    }
}

}  // namespace
}  // namespace limbwright::models::groove_names_test
