#include "models/input/input_error.hpp"

#include <gtest/gtest.h>

namespace limbwright::models::input_error_test {
namespace {

Complaints complaints_on_lines_of_keys() {
    return Complaints([](std::string_view key) {
        return Place{"bow.toml", key.empty() ? 1 : static_cast<int>(key.size()), 7};
    });
}

TEST(InputError, ASentenceTellsPlaceKeyWantedAndFound) {
    const Complaint complaint{
        {"first_bow.toml", 9, 13}, "limb.width", "must lie between 10 mm and 80 mm", "4.5 mm"};
    EXPECT_EQ(sentence(complaint),
              "first_bow.toml:9:13: limb.width must lie between 10 mm and 80 mm, but is 4.5 mm");
}

TEST(InputError, ASentenceLeavesOutWhatIsNotKnown) {
    EXPECT_EQ(sentence({{"groove.csv", 7, 0}, "", "the row is short", ""}), "groove.csv:7: the row is short");
    EXPECT_EQ(sentence({{"", 0, 0}, "brace_height", "is missing", ""}), "brace_height is missing");
}

TEST(InputError, EveryComplaintIsThrownAtOnceInTheOrderOfTheFile) {
    Complaints complaints = complaints_on_lines_of_keys();
    complaints.add("four", "is wrong");
    complaints.add_at({"a.csv", 1, 0}, "", "is beside it");
    complaints.add("one", "is wrong too");
    try {
        complaints.finish();
        FAIL() << "nothing was thrown";
    } catch (const InputError& error) {
        EXPECT_STREQ(error.what(),
                     "bow.toml:3:7: one is wrong too\nbow.toml:4:7: four is wrong\na.csv:1: is beside it");
        EXPECT_EQ(error.complaints().size(), 3u);
    }
}

TEST(InputError, WithoutComplaintsNothingIsThrown) {
    EXPECT_NO_THROW(complaints_on_lines_of_keys().finish());
}

TEST(InputError, AComplaintAboutATableIsAboutItsKeysButNotItsNeighbours) {
    Complaints complaints = complaints_on_lines_of_keys();
    complaints.add("limb", "is missing");
    EXPECT_TRUE(complaints.about("limb"));
    EXPECT_TRUE(complaints.about("limb.width"));
    EXPECT_TRUE(complaints.about("limb[1]"));
    EXPECT_FALSE(complaints.about("limbs"));
    EXPECT_FALSE(complaints.about("riser"));
}

TEST(InputError, ASilencedPartCountsAsComplainedAboutButThrowsNothing) {
    Complaints complaints = complaints_on_lines_of_keys();
    complaints.silence("cam.bottom");
    EXPECT_TRUE(complaints.about("cam.bottom.string"));
    EXPECT_FALSE(complaints.about("cam.top"));
    EXPECT_NO_THROW(complaints.finish());
}

}  // namespace
}  // namespace limbwright::models::input_error_test
