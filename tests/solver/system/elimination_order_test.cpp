#include "solver/system/elimination_order.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/mesh.hpp"

namespace limbwright::solver::elimination_order_test {
namespace {

using Lists = std::vector<std::vector<int>>;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Entries below the diagonal.
std::size_t size(const Elimination& found) {
    std::size_t sum = 0;
    for (const std::vector<int>& column : found.later) sum += column.size();
    return sum;
}

Lists chain(int slots) {
    Lists elements;
    for (int i = 0; i + 1 < slots; ++i) elements.push_back({i, i + 1});
    return elements;
}

TEST(EliminationOrder, HoldsEverySlotOnce) {
    Elimination found = elimination(testing::mesh(7, 5), 35, 38);
    std::sort(found.order.begin(), found.order.end());
    for (int i = 0; i < 38; ++i) EXPECT_EQ(found.order[at(i)], i);
}

TEST(EliminationOrder, FillsNothingInAChain) {
    EXPECT_EQ(size(elimination(chain(50), 50, 50)), 49u);
}

TEST(EliminationOrder, FillsNothingInATree) {
    const Lists tree{{0, 1}, {0, 2}, {0, 3}, {1, 4}, {1, 5}, {1, 6}, {2, 7}, {2, 8}, {3, 9}, {3, 10}};
    EXPECT_EQ(size(elimination(tree, 11, 11)), 10u);
}

TEST(EliminationOrder, LeavesTheBorderLastAsItStands) {
    Lists elements = chain(10);
    for (int i = 0; i < 10; ++i) elements.push_back({i, 10 + i % 3});
    const Elimination found = elimination(elements, 10, 13);
    EXPECT_EQ(std::vector<int>(found.order.end() - 3, found.order.end()), (std::vector<int>{10, 11, 12}));
}

TEST(EliminationOrder, TellsWhatIsCoupledWhenItsTurnComes) {
    // Whatever goes first in a ring of four couples its two neighbours.
    const Elimination found = elimination({{0, 1}, {1, 2}, {2, 3}, {3, 0}}, 4, 4);
    std::vector<std::size_t> sizes;
    for (const int slot : found.order) sizes.push_back(found.later[at(slot)].size());
    EXPECT_EQ(sizes, (std::vector<std::size_t>{2, 2, 1, 0}));
}

TEST(EliminationOrder, TakesSlotsThatNothingTouches) {
    EXPECT_EQ(elimination({}, 2, 3).order.size(), 3u);
}

TEST(EliminationOrder, IsTheSameEveryTime) {
    const Elimination one = elimination(testing::mesh(20, 30), 600, 600);
    const Elimination other = elimination(testing::mesh(20, 30), 600, 600);
    EXPECT_EQ(one.order, other.order);
    EXPECT_EQ(one.later, other.later);
}

TEST(EliminationOrder, PutsColumnsOfTheSameRowsSideBySide) {
    // Two out of five in a mesh follow one of their kind.
    const int slots = 30 * 30;
    const Elimination found = elimination(testing::mesh(30, 30), slots, slots);
    int groups = 1;
    for (int k = 1; k < slots; ++k) {
        const std::vector<int>& before = found.later[at(found.order[at(k - 1)])];
        const int slot = found.order[at(k)];
        groups += std::find(before.begin(), before.end(), slot) == before.end() ||
                  before.size() != found.later[at(slot)].size() + 1;
    }
    EXPECT_LT(groups, 3 * slots / 5);
}

TEST(EliminationOrder, FillsAMeshNoMoreThanNestedDissection) {
    // Nested dissection leaves 31/4 n² log₂ n entries in a mesh of n × n squares, to the leading order
    // (George, Nested dissection of a regular finite element mesh, 1973); minimum fill does better on small
    // ones.
    for (const int n : {10, 20, 40, 60})
        EXPECT_LT(static_cast<double>(size(elimination(testing::mesh(n, n), n * n, n * n))),
                  5 * n * n * std::log2(n));
}

TEST(EliminationOrder, FillsANarrowStripLittleMoreThanABandDoes) {
    // A band goes from end to end with one row and one slot ahead of it.
    const int across = 9, along = 41, slots = across * along;
    EXPECT_LT(size(elimination(testing::mesh(across, along), slots, slots)), 1.1 * slots * (across + 1));
}

}  // namespace
}  // namespace limbwright::solver::elimination_order_test
