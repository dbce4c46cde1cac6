#include "models/tuning/tear.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/input/input_error.hpp"
#include "models/input/units.hpp"

namespace limbwright::models::tear_test {
namespace {

const std::string left_tear = R"(tail = "left"
size = "22 mm"
distance = "2 m"
[arrow]
length = "28.25 in"
spine = 370
point_weight = "115 gr"
total_weight = "405 gr"
)";

Tear read(const std::string& text) {
    return tear_from_toml(text, "t.toml", Hand::right);
}
std::string said(const std::string& text) {
    try {
        (void)read(text);
    } catch (const InputError& error) {
        return error.what();
    }
    return "no complaint";
}

TEST(Tear, ReadsDirectionSizeDistanceAndArrow) {
    const Tear tear = read(left_tear);
    EXPECT_EQ(tear.left, 22);
    EXPECT_EQ(tear.high, 0);
    EXPECT_EQ(tear.distance, 2000);
    EXPECT_EQ(tear.hand, Hand::right);
    ASSERT_TRUE(tear.arrow);
    EXPECT_EQ(tear.arrow->spine, 370);
    EXPECT_NEAR(tear.arrow->length, 717.55, 1e-9);
    EXPECT_NEAR(tear.arrow->total_weight, 26.24e-6, 1e-8);
}

TEST(Tear, TheExampleIsATailLeftTear) {
    const Tear tear = read_tear(SOURCE_DIR "/examples/tear_left.toml", Hand::right);
    EXPECT_EQ(to_text(tear), "tail left, 22 mm");
}

TEST(Tear, TellsAllEightDirections) {
    EXPECT_EQ(to_text(*tear_of("right", 10)), "tail right, 10 mm");
    EXPECT_EQ(to_text(*tear_of("high", 10)), "tail high, 10 mm");
    EXPECT_EQ(to_text(*tear_of("low", 10)), "tail low, 10 mm");
    EXPECT_EQ(to_text(*tear_of("low right", std::sqrt(200))),
              "tail low right, 10 mm to the right and 10 mm down");
    EXPECT_GT(tear_of("high left", 1)->left, 0);
    EXPECT_FALSE(tear_of("sideways", 10));
}

TEST(Tear, ASlantedTearMaySayHowMuchOfItGoesUp) {
    const Tear tear = read("tail = \"high left\"\nsize = \"13 mm\"\nup = \"5 mm\"\n");
    EXPECT_NEAR(tear.left, 12, 1e-12);
    EXPECT_EQ(tear.high, 5);
    EXPECT_NEAR(tear.size(), 13, 1e-12);
}

/// asin(22 / 717.55).
TEST(Tear, ItsAngleIsThatOfTheArrowInThePaper) {
    const Tear tear = read(left_tear);
    EXPECT_NEAR(tear_angle(tear, tear.left), 1.757, 1e-3);
    EXPECT_EQ(tear_angle(tear, tear.high), 0);
    EXPECT_NEAR(tear_angle(tear, -tear.left), -1.757, 1e-3);
}

TEST(Tear, ComplainsAboutEverythingAtOnceWithItsPlace) {
    const std::string text =
        "tail = \"sideways\"\nsize = 25\ndistanse = \"2 m\"\n[arrow]\nlength = \"28 in\"\n";
    const std::string what = said(text);
    for (const char* words :
         {"t.toml:1:8: tail must be one of", "\"high right\"", "t.toml:2:8: size needs a unit", "distanse",
          "arrow.spine is missing", "arrow.total_weight is missing"})
        EXPECT_NE(what.find(words), std::string::npos) << words << "\n" << what;
}

TEST(Tear, RefusesAnArrowWhosePointOutweighsIt) {
    std::string text = left_tear;
    text.replace(text.find("115 gr"), 6, "425 gr");
    EXPECT_NE(said(text).find("arrow.point_weight must be less than the total weight"), std::string::npos);
}

TEST(Tear, RefusesAnotherHandThanTheBows) {
    EXPECT_NE(
        said("tail = \"left\"\nsize = \"9 mm\"\nhand = \"left\"\n").find("must be the bow's, \"right\""),
        std::string::npos);
}

TEST(Tear, RefusesAPartUpwardOfATearThatGoesAsideOnly) {
    EXPECT_NE(said("tail = \"left\"\nsize = \"9 mm\"\nup = \"3 mm\"\n").find("slanted"), std::string::npos);
}

TEST(Tear, NamesAFileThatCannotBeRead) {
    EXPECT_THROW((void)read_tear("/nowhere/tear.toml", Hand::right), InputError);
}

}  // namespace
}  // namespace limbwright::models::tear_test
