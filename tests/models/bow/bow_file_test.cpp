#include "models/bow/bow_file.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include <filesystem>
#include <fstream>

#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::bow_file_test {
namespace {

namespace fs = std::filesystem;

/// A folder of its own for each test.
class BowFile : public ::testing::Test {
protected:
    BowFile() {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() / (std::string("bow_file_") + test->name());
        fs::create_directories(folder_);
    }
    ~BowFile() override { fs::remove_all(folder_); }

    fs::path write(const std::string& name, const std::string& text) const {
        std::ofstream(folder_ / name) << text;
        return folder_ / name;
    }
    /// What reading the file says, with the folder's name taken out.
    std::string said(const fs::path& file) const {
        try {
            (void)read_bow(file);
        } catch (const InputError& error) {
            std::string text = error.what();
            const std::string own = folder_.string() + "/";
            for (auto at = text.find(own); at != std::string::npos; at = text.find(own))
                text.erase(at, own.size());
            return text;
        }
        return "nothing";
    }

    fs::path folder_;
};

TEST_F(BowFile, ABowFileIsReadFromDisk) {
    EXPECT_EQ(read_bow(write("a.toml", crossed_bow_text)).name, "First bow");
}

TEST_F(BowFile, AMissingFileIsAnInputError) {
    EXPECT_EQ(said(folder_ / "none.toml"), "none.toml: this file cannot be read");
}

TEST_F(BowFile, AFolderInPlaceOfAFileIsAnInputError) {
    fs::create_directories(folder_ / "sub.toml");
    EXPECT_EQ(said(folder_ / "sub.toml"), "sub.toml: this file cannot be read");
}

TEST_F(BowFile, ASyntaxErrorIsToldWithItsLine) {
    const std::string text = said(write("a.toml", "name = \"x\"\n[riser\nfill = 1\n"));
    EXPECT_EQ(text.substr(0, 30), "a.toml:2:7: this is not TOML: ") << text;
}

TEST_F(BowFile, GroovesLieBesideTheBowFile) {
    std::string rows = "u_mm,v_mm\n";
    for (int i = 0; i < 36; ++i) {
        const double direction = 2 * std::numbers::pi * i / 36;
        rows += fmt::format("{:.3f},{:.3f}\n", 40 * std::cos(direction), 40 * std::sin(direction));
    }
    write("top.csv", rows);
    const std::string text =
        replaced(crossed_bow_text, R"(circle = { centre = ["3 mm", "-8 mm"], radius = "45 mm" })",
                 R"(traced = "top.csv")");
    const Bow bow = read_bow(write("a.toml", text));
    ASSERT_TRUE(bow.cam_top.string.traced);
    EXPECT_EQ(bow.cam_top.string.traced->file, "top.csv");
    EXPECT_EQ(bow.cam_top.string.traced->points[9], Vec2(0, 40));
    EXPECT_EQ(bow.cam_bottom.string.traced->points[26],
              Vec2(0, -40));                                      // flipped, and in order the other way round
    EXPECT_NEAR(bow.cam_top.string.groove->at(0.3).h, 40, 1e-3);  // the points are rounded to 1e-3
}

TEST_F(BowFile, ATraceTooShortForAGrooveIsAMistakeOfTheFile) {
    write("top.csv", "u_mm,v_mm\n40,0\n0,41\n-42,0\n0,-39\n");
    const std::string text =
        replaced(crossed_bow_text, R"(circle = { centre = ["3 mm", "-8 mm"], radius = "45 mm" })",
                 R"(traced = "top.csv")");
    EXPECT_EQ(said(write("a.toml", text)),
              "a.toml:54:10: cam.top.string.traced must make a smooth convex groove, but is only 4 points: "
              "at least 8 are "
              "wanted, better one every few degrees round the groove");
}

TEST_F(BowFile, MistakesInAGrooveFileAreToldAfterThoseInTheBowFile) {
    write("top.csv", "u_mm,v_mm\n40,0\n0,41\nx,0\n0,-39\n");
    std::string text =
        replaced(crossed_bow_text, R"(circle = { centre = ["3 mm", "-8 mm"], radius = "45 mm" })",
                 R"(traced = "top.csv")");
    text = replaced(text, "hand = \"right\"", "hand = \"both\"");
    EXPECT_EQ(said(write("a.toml", text)),
              "a.toml:86:8: shooter.hand must be one of \"right\", \"left\", but is \"both\"\n"
              "top.csv:4: the row must be two numbers such as \"12.5,-3.2\", but is \"x,0\"");
}

TEST_F(BowFile, AMirrorFileIsTheMirrorImageOfTheOther) {
    const fs::path right = write("right.toml", crossed_bow_text);
    const Bow left = read_bow(write("left.toml", "mirror_of = \"right.toml\"\n"));
    EXPECT_EQ(left.shooter.hand, Hand::left);
    EXPECT_EQ(left.name, "First bow");
    EXPECT_EQ(bow_to_toml(left), bow_to_toml(mirrored(read_bow(right))));
}

TEST_F(BowFile, AMirrorFileMayNameAndTellOfTheBow) {
    write("right.toml", crossed_bow_text);
    const Bow left =
        read_bow(write("left.toml", "mirror_of = \"right.toml\"\nname = \"Lefty\"\nstory = \"Hers.\"\n"));
    EXPECT_EQ(left.name, "Lefty");
    EXPECT_EQ(left.story, "Hers.");
}

TEST_F(BowFile, AMirrorOfAMirrorIsTheBowItself) {
    const fs::path right = write("right.toml", crossed_bow_text);
    write("left.toml", "mirror_of = \"right.toml\"\n");
    const Bow again = read_bow(write("again.toml", "mirror_of = \"left.toml\"\n"));
    EXPECT_EQ(bow_to_toml(again), bow_to_toml(read_bow(right)));
}

TEST_F(BowFile, AMirrorFileHoldsNothingElse) {
    write("right.toml", crossed_bow_text);
    EXPECT_EQ(said(write("left.toml", "mirror_of = \"right.toml\"\ncable_system = \"crossed\"\n")),
              "left.toml:2:1: cable_system is not a known key; known here are mirror_of, name, story");
}

TEST_F(BowFile, AMirrorOfAMissingFileIsToldWhereItIsNamed) {
    EXPECT_EQ(said(write("left.toml", "mirror_of = \"none.toml\"\n")),
              "left.toml:1:13: mirror_of must name a bow file beside this one, but none.toml cannot be read");
}

TEST_F(BowFile, MirrorsThatLeadBackAreRefused) {
    write("a.toml", "mirror_of = \"b.toml\"\n");
    const fs::path b = write("b.toml", "mirror_of = \"a.toml\"\n");
    EXPECT_EQ(said(b), "a.toml:1:13: mirror_of must not lead back to the same file, but is b.toml");
}

TEST_F(BowFile, MistakesInTheMirroredFileAreToldThere) {
    write("right.toml", replaced(crossed_bow_text, "fill = 0.55", "fill = 1.55"));
    EXPECT_EQ(said(write("left.toml", "mirror_of = \"right.toml\"\n")),
              "right.toml:7:8: riser.fill must be above 0 and at most 1, but is 1.55");
}

/// Half a file, as an editor or a full disk leaves it, may be valid by chance but must never break the
/// reader.
TEST(BowFileFuzz, EveryPrefixOfAFileIsReadOrRefused) {
    int refused = 0;
    for (std::size_t size = 0; size < mixed_bow_text.size(); ++size) {
        try {
            (void)bow_from_toml(std::string_view(mixed_bow_text).substr(0, size), "f.toml");
        } catch (const InputError&) {
            ++refused;
        }
    }
    EXPECT_GT(refused, 2000);
}

TEST(BowFileFuzz, AFileWithAnyLineLeftOutIsReadOrRefused) {
    for (const std::string& whole : {mixed_bow_text, laminated_bow_text}) {
        for (std::size_t begin = 0; begin < whole.size();) {
            const std::size_t end = whole.find('\n', begin) + 1;
            try {
                (void)bow_from_toml(whole.substr(0, begin) + whole.substr(end), "f.toml");
            } catch (const InputError& error) {
                EXPECT_FALSE(error.complaints().empty());
            }
            begin = end;
        }
    }
}

TEST(BowFileFuzz, AFileWithAnyByteReplacedIsReadOrRefused) {
    for (const char c : {'\0', '"', '[', '9', '\xFF', '-'})
        for (std::size_t at = 0; at < crossed_bow_text.size(); ++at) {
            std::string text = crossed_bow_text;
            text[at] = c;
            try {
                (void)bow_from_toml(text, "f.toml");
            } catch (const InputError& error) {
                EXPECT_FALSE(error.complaints().empty());
            }
        }
}

}  // namespace
}  // namespace limbwright::models::bow_file_test
