#include "models/states/measure_names.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow_file.hpp"

namespace limbwright::models::measure_names_test {
namespace {

const MeasureNames& names() {
    static const MeasureNames all =
        measure_names(read_bow(std::string(SOURCE_DIR) + "/examples/crossed.toml"));
    return all;
}

TEST(MeasureNames, StatesAndWholeDrawsHaveTheirOwn) {
    ASSERT_TRUE(find(names().states, "cam lean, top"));
    EXPECT_EQ(find(names().states, "cam lean, top")->unit, "deg");
    EXPECT_FALSE(find(names().draw, "cam lean, top"));
    ASSERT_TRUE(find(names().draw, "let-off"));
    EXPECT_EQ(find(names().draw, "let-off")->unit, "%");
    EXPECT_FALSE(find(names().states, "let-off"));
}

TEST(MeasureNames, TheNearestComesFirst) {
    const std::vector<std::string> near = nearest(names(), "cam leen, top");
    ASSERT_EQ(near.size(), 3u);
    EXPECT_EQ(near[0], "cam lean, top");
    EXPECT_EQ(nearest(names(), "letoff")[0], "let-off");
}

TEST(MeasureNames, ANameInBothListsIsAdvisedOnce) {
    const std::vector<std::string> near = nearest(names(), "stored energi");
    EXPECT_EQ(near[0], "stored energy");
    EXPECT_NE(near[1], "stored energy");
}

}  // namespace
}  // namespace limbwright::models::measure_names_test
