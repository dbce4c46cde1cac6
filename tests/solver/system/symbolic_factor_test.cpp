#include "solver/system/symbolic_factor.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/mesh.hpp"
#include "tests/support/touches.hpp"

namespace limbwright::solver::symbolic_factor_test {
namespace {

using Elements = std::vector<std::vector<Touch>>;

using testing::node, testing::point, testing::scalar;

Plan plan_of(const Numbering& numbering, const Elements& elements) {
    std::vector<const std::vector<Touch>*> touches;
    for (const std::vector<Touch>& element : elements) touches.push_back(&element);
    return {numbering, touches};
}

Elements ring(int nodes) {
    Elements elements;
    for (int i = 0; i < nodes; ++i) elements.push_back({node(i), node((i + 1) % nodes)});
    return elements;
}

/// A ring of six nodes with a cable from one node over two scalars to another through a point.
const Numbering with_border{.nodes = 6, .points = 1, .scalars = 5};
Elements ring_with_cable() {
    Elements elements = ring(6);
    elements.push_back({node(0), scalar(4), node(3), point(0), scalar(1)});
    return elements;
}

TEST(Plan, AChainDoesNotFill) {
    const Plan plan = plan_of({.nodes = 4}, {{node(0), node(1)}, {node(2), node(1)}, {node(2), node(3)}});
    EXPECT_EQ(plan.blocks, 4 + 3);
}

TEST(Plan, ARingFillsOneBlockForEveryNodeButThree) {
    for (const int n : {3, 4, 6, 11}) EXPECT_EQ(plan_of({.nodes = n}, ring(n)).blocks, n + n + (n - 3));
}

TEST(Plan, AStarIsEliminatedFromItsEnds) {
    const Plan plan = plan_of(
        {.nodes = 5}, {{node(0), node(1)}, {node(0), node(2)}, {node(0), node(3)}, {node(0), node(4)}});
    EXPECT_EQ(plan.blocks, 5 + 4);
    EXPECT_GE(plan.position[0], 3);  // the middle, once no more than one end is left
}

TEST(Plan, TheBorderComesLastAsItStands) {
    const Plan plan = plan_of(with_border, ring_with_cable());
    EXPECT_EQ(plan.slots, 8);
    EXPECT_EQ(plan.position[6], 6);
    EXPECT_EQ(plan.position[7], 7);
}

TEST(Plan, PositionsAndSlotsAreEachOthersInverse) {
    const Plan plan = plan_of(with_border, ring_with_cable());
    for (int s = 0; s < plan.slots; ++s)
        EXPECT_EQ(plan.slot_at[static_cast<std::size_t>(plan.position[static_cast<std::size_t>(s)])], s);
}

TEST(Plan, EntriesLieBelowTheDiagonalInRisingRows) {
    const Plan plan = plan_of(with_border, ring_with_cable());
    for (int k = 0; k < plan.slots; ++k) {
        int before = k;
        for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)]) {
            EXPECT_GT(entry.row, before);
            before = entry.row;
        }
    }
}

TEST(Plan, ScatterBringsEveryPairOfAnElementToOneSideOfTheDiagonal) {
    const Elements elements = ring_with_cable();
    const Plan plan = plan_of(with_border, elements);
    for (std::size_t e = 0; e < elements.size(); ++e) {
        const int n = freedom_count(elements[e]);
        Eigen::MatrixXi met = Eigen::MatrixXi::Zero(n, n);
        for (const Plan::Scatter& s : plan.scatter[e])
            met.block(s.from_row, s.from_column, s.rows, s.columns).array() += 1;
        EXPECT_TRUE(((met + met.transpose()).array() >= 1).all());
        EXPECT_LE(met.maxCoeff(), 1);
    }
}

TEST(Plan, ScatterStaysInsideItsBlock) {
    const Plan plan = plan_of(with_border, ring_with_cable());
    for (const std::vector<Plan::Scatter>& pairs : plan.scatter)
        for (const Plan::Scatter& s : pairs) {
            EXPECT_LT(s.block, plan.blocks);
            EXPECT_LE(s.row + s.rows, 6);
            EXPECT_LE(s.column + s.columns, 6);
        }
}

TEST(Plan, GatherFollowsTheElementsOwnOrder) {
    const Plan plan = plan_of(with_border, ring_with_cable());
    EXPECT_EQ(plan.gather.back(),
              (std::vector<int>{0, 1, 2, 3, 4, 5, 43, 18, 19, 20, 21, 22, 23, 36, 37, 38, 40}));
}

/// Elements of four nodes, two of them joined over a point and a scalar.
const Numbering mesh_numbering{.nodes = 12 * 8, .points = 3, .scalars = 4};
Elements mesh() {
    Elements elements;
    for (const std::vector<int>& corners : testing::mesh(12, 8)) {
        elements.emplace_back();
        for (const int corner : corners) elements.back().push_back(node(corner));
    }
    elements.push_back({node(0), point(0), scalar(3), node(95)});
    elements.push_back({node(11), point(2), scalar(0), node(84)});
    return elements;
}

TEST(Plan, EveryPairOfEntriesChangesTheBlockInItsRowAndColumn) {
    const Plan plan = plan_of(mesh_numbering, mesh());
    std::vector<std::pair<int, int>> place_of(static_cast<std::size_t>(plan.blocks));
    for (int k = 0; k < plan.slots; ++k) {
        place_of[static_cast<std::size_t>(k)] = {k, k};
        for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
            place_of[static_cast<std::size_t>(entry.block)] = {entry.row, k};
    }
    for (std::size_t k = 0; k < plan.columns.size(); ++k) {
        const std::vector<Plan::Entry>& column = plan.columns[k];
        std::vector<std::pair<int, int>> expected, found;
        for (std::size_t i = 0; i < column.size(); ++i)
            for (std::size_t j = 0; j <= i; ++j) expected.push_back({column[i].row, column[j].row});
        for (const int block : plan.updates[k]) found.push_back(place_of[static_cast<std::size_t>(block)]);
        EXPECT_EQ(found, expected);
    }
}

TEST(Plan, BlocksAreNumberedColumnByColumnAfterTheDiagonal) {
    const Plan plan = plan_of(mesh_numbering, mesh());
    int next = plan.slots;
    for (const std::vector<Plan::Entry>& column : plan.columns)
        for (const Plan::Entry& entry : column) EXPECT_EQ(entry.block, next++);
    EXPECT_EQ(plan.blocks, next);
}

TEST(Plan, OfAMeshKeepsTheBorderLast) {
    const Plan plan = plan_of(mesh_numbering, mesh());
    for (int s = mesh_numbering.nodes; s < plan.slots; ++s)
        EXPECT_EQ(plan.position[static_cast<std::size_t>(s)], s);
}

TEST(Plan, HasNoFillInAChain) {
    EXPECT_EQ(plan_of({.nodes = 3}, {{node(0), node(1)}, {node(1), node(2)}}).fill(), 1);
}

TEST(Plan, FillIsStoredBlocksOverTouchedOnes) {
    EXPECT_DOUBLE_EQ(plan_of({.nodes = 6}, ring(6)).fill(), (6 + 6 + 3) / (6. + 6.));
}

TEST(Plan, FreedomsInOneSlotNeedNoFurtherBlock) {
    const Plan plan = plan_of({.points = 1, .scalars = 3}, {{point(0), scalar(0), scalar(2)}});
    EXPECT_EQ(plan.blocks, 1);
}

TEST(Plan, TellsTurnsFromDisplacements) {
    Touch slide = scalar(1);
    slide.slides = true;
    const Plan plan =
        plan_of({.nodes = 1, .points = 1, .scalars = 2}, {{node(0), point(0), scalar(0), slide}});
    EXPECT_EQ(plan.turns, (std::vector<char>{0, 0, 0, 1, 1, 1, 0, 0, 0, 1, 0}));
}

TEST(Plan, AScalarIsALengthIfAnyElementsFrameSlidesByIt) {
    Touch slide = scalar(0);
    slide.slides = true;
    EXPECT_EQ(plan_of({.scalars = 1}, {{slide}, {scalar(0)}}).turns, std::vector<char>{0});
}

}  // namespace
}  // namespace limbwright::solver::symbolic_factor_test
