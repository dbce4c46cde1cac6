#include "meshes/grid_lines.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace limbwright::meshes::grid_lines_test {
namespace {

using Lines = std::vector<double>;

void expect_lines(const Lines& found, const Lines& wanted) {
    ASSERT_EQ(found.size(), wanted.size());
    for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(found[i], wanted[i], 1e-12);  // rounding
}

TEST(GridLines, AreEvenBetweenTheEnds) {
    expect_lines(grid_lines({0, 10}, {}, {}, 4), {0, 2.5, 5, 7.5, 10});
}

TEST(GridLines, KeepEveryEdgeAndDivideTheGapsBetween) {
    expect_lines(grid_lines({0, 10, 7, 3}, {}, {}, 5), {0, 1.5, 3, 5, 7, 8.5, 10});
}

TEST(GridLines, TakeEqualEdgesAsOne) {
    expect_lines(grid_lines({0, 10, 5, 5 + 1e-12}, {}, {}, 2), {0, 5, 10});
}

TEST(GridLines, KeepAChamfersGapWhole) {
    expect_lines(grid_lines({0, 10, 2, 10}, {{2, 4, 1}}, {}, 10), {0, 1, 2, 6, 7, 8, 9, 10});
    expect_lines(grid_lines({0, 10, 6}, {{6, -3, 1}}, {}, 5), {0, 1.5, 3, 6, 8, 10});
}

TEST(GridLines, LetAChamferEndAtALineThatIsNearItsEnd) {
    expect_lines(grid_lines({0, 10, 2, 5}, {{2, 4, 1}}, {}, 2), {0, 2, 5, 10});
    expect_lines(grid_lines({0, 10, 2}, {{2, 4, 1}, {2, 3, 2}}, {}, 2), {0, 2, 5, 10});
}

TEST(GridLines, RefuseALineThatCrossesAChamfer) {
    EXPECT_THROW((void)grid_lines({0, 10, 2, 3}, {{2, 4, 1}}, {}, 2), std::invalid_argument);
    EXPECT_THROW((void)grid_lines({0, 10, 2}, {{2, 4, 1}, {2, 1, 2}}, {}, 2), std::invalid_argument);
}

TEST(GridLines, FollowWishesAtLeastHalfAStepFromOtherLines) {
    expect_lines(grid_lines({0, 10}, {}, {5.5, 10, 0}, 2), {0, 5.5, 10});
    expect_lines(grid_lines({0, 10, 5}, {}, {6}, 2), {0, 5, 10});
    expect_lines(grid_lines({0, 10, 2}, {{2, 5, 1}}, {5}, 5), {0, 2, 7, 8.5, 10});
}

TEST(GridLines, RefuseNoCells) {
    EXPECT_THROW((void)grid_lines({0, 10}, {}, {}, 0), std::invalid_argument);
}

}  // namespace
}  // namespace limbwright::meshes::grid_lines_test
