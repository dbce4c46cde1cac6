#include "models/bow/groove_file.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>

namespace limbwright::models::groove_file_test {
namespace {

class GrooveFileTest : public ::testing::Test {
protected:
    GrooveFileTest() {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        file_ =
            std::filesystem::temp_directory_path() / (std::string("groove_file_") + test->name() + ".csv");
    }
    ~GrooveFileTest() override { std::filesystem::remove(file_); }

    void write(const std::string& text) const { std::ofstream(file_) << text; }
    Track::Traced traced() { return read_traced(file_, "g.csv", "cam.top.string.traced", complaints_); }
    Track::Support support() { return read_support(file_, "g.csv", "cam.top.string.support", complaints_); }
    [[nodiscard]] std::string said() const {
        std::string text;
        for (const Complaint& complaint : complaints_.all()) text += sentence(complaint) + "\n";
        return text;
    }

    std::filesystem::path file_;
    Complaints complaints_{[](std::string_view) { return Place{"bow.toml", 5, 1}; }};
};

TEST_F(GrooveFileTest, TracedPointsAreReadInOrder) {
    write("\xEF\xBB\xBFu_mm,v_mm\r\n# lower lobe\r\n\r\n10,0\r\n 0 , 10.5\r\n-10,-1e-1\r\n");
    const std::vector<Vec2> wanted{Vec2(10, 0), Vec2(0, 10.5), Vec2(-10, -0.1)};
    EXPECT_EQ(traced().points, wanted);
    EXPECT_EQ(said(), "");
}

TEST_F(GrooveFileTest, SupportDirectionsLeaveInRadians) {
    write("direction_deg,distance_mm\n-180,30\n0,31\n90,32\n");
    const Track::Support read = support();
    EXPECT_DOUBLE_EQ(read.direction[0], -std::numbers::pi);
    EXPECT_DOUBLE_EQ(read.direction[2], std::numbers::pi / 2);
    EXPECT_EQ(read.distance, (std::vector<double>{30, 31, 32}));
    EXPECT_EQ(said(), "");
}

TEST_F(GrooveFileTest, EveryBadRowIsToldWithItsLine) {
    write("u_mm,v_mm\n1,2\n3;4\n5,nan\n6\n7,8,9\n10,11\n1,x\n");
    (void)traced();
    EXPECT_EQ(said(),
              "g.csv:3: the row must be two numbers such as \"12.5,-3.2\", but is \"3;4\"\n"
              "g.csv:4: the row must be two numbers such as \"12.5,-3.2\", but is \"5,nan\"\n"
              "g.csv:5: the row must be two numbers such as \"12.5,-3.2\", but is \"6\"\n"
              "g.csv:6: the row must be two numbers such as \"12.5,-3.2\", but is \"7,8,9\"\n"
              "g.csv:8: the row must be two numbers such as \"12.5,-3.2\", but is \"1,x\"\n");
}

TEST_F(GrooveFileTest, AWrongHeaderIsTheOnlyComplaint) {
    write("x;y\n1;2\n3;4\n");
    (void)traced();
    EXPECT_EQ(said(), "g.csv:1: the header must be \"u_mm,v_mm\", but is \"x;y\"\n");
}

TEST_F(GrooveFileTest, ARepeatedPointIsTold) {
    write("u_mm,v_mm\n1,2\n3,4\n3,4\n5,6\n");
    (void)traced();
    EXPECT_EQ(said(), "g.csv:4: the point must differ from the one before it\n");
}

TEST_F(GrooveFileTest, DirectionsThatDoNotRiseAreTold) {
    write("direction_deg,distance_mm\n0,30\n20,31\n10,32\n");
    (void)support();
    EXPECT_EQ(said(), "g.csv:4: the direction must rise from row to row, above 20 deg, but is 10 deg\n");
}

TEST_F(GrooveFileTest, TooFewRowsAreToldByTheKey) {
    write("u_mm,v_mm\n1,2\n3,4\n");
    (void)traced();
    EXPECT_EQ(said(),
              "bow.toml:5:1: cam.top.string.traced must name a file with at least 3 rows, but g.csv has 2\n");
}

TEST_F(GrooveFileTest, AMissingFileIsToldByTheKey) {
    (void)traced();
    EXPECT_EQ(said(),
              "bow.toml:5:1: cam.top.string.traced must name a file beside the bow file, but g.csv cannot be "
              "read\n");
}

TEST_F(GrooveFileTest, WrittenPointsReadBackToTheSameBits) {
    const Track::Traced made{.file = {},
                             .points = {Vec2(1.0 / 3, 2), Vec2(-1e-17, 4.7), Vec2(5, std::sqrt(2))}};
    write(to_csv(made));
    EXPECT_EQ(traced().points, made.points);
}

TEST_F(GrooveFileTest, WrittenSupportReadsBackToTheLastBits) {
    const Track::Support made{
        .file = {}, .direction = {-1, 1.0 / 3, 2.1}, .distance = {30, 31.7, std::sqrt(2)}};
    write(to_csv(made));
    const Track::Support read = support();
    for (std::size_t i = 0; i < 3; ++i) EXPECT_DOUBLE_EQ(read.direction[i], made.direction[i]);
    EXPECT_EQ(read.distance, made.distance);
}

}  // namespace
}  // namespace limbwright::models::groove_file_test
