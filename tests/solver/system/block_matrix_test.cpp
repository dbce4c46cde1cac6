#include "solver/system/block_matrix.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <limits>

#include "tests/support/element_check.hpp"
#include "tests/support/mesh.hpp"
#include "tests/support/touches.hpp"

namespace limbwright::solver::block_matrix_test {
namespace {

using testing::Random;

using testing::node, testing::point, testing::scalar;

/// Two rings of nodes that share one, cables across them through points and scalars, and an empty rest of the
/// last slot.
struct Net {
    Numbering numbering{.nodes = 7, .points = 2, .scalars = 3};
    std::vector<std::vector<Touch>> elements{
        {node(0), node(1)},
        {node(1), node(2)},
        {node(2), node(3)},
        {node(3), node(0)},
        {node(3), node(4)},
        {node(5), node(4)},
        {node(5), node(6)},
        {node(6), node(3)},
        {point(0), node(1), scalar(2)},
        {point(1), scalar(0), node(6), scalar(1), point(0)},
        {scalar(0)},
    };

    [[nodiscard]] std::shared_ptr<const Plan> plan() const {
        std::vector<const std::vector<Touch>*> touches;
        for (const std::vector<Touch>& element : elements) touches.push_back(&element);
        return std::make_shared<const Plan>(numbering, touches);
    }

    /// Random symmetric matrices of the elements; `shift` on their diagonals makes them definite.
    [[nodiscard]] std::vector<ElementMatrix> matrices(unsigned seed, double shift) const {
        Random random(seed);
        std::vector<ElementMatrix> all;
        for (const std::vector<Touch>& element : elements) {
            const int n = freedom_count(element);
            ElementMatrix H(n, n);
            for (int i = 0; i < n; ++i)
                for (int j = 0; j <= i; ++j) H(i, j) = H(j, i) = random.number();
            H.diagonal().array() += shift;
            all.push_back(H);
        }
        return all;
    }
};

/// A mesh of four-cornered elements, cables across it through points and scalars, and one element over many
/// nodes.
Net mesh(int across, int along) {
    const int nodes = across * along;
    Net net{.numbering = {.nodes = nodes, .points = 2, .scalars = 3}, .elements = {}};
    for (const std::vector<int>& corners : testing::mesh(across, along)) {
        net.elements.emplace_back();
        for (const int corner : corners) net.elements.back().push_back(node(corner));
    }
    net.elements.push_back({point(0), node(0), scalar(2)});
    net.elements.push_back({point(1), scalar(0), node(nodes - 1), scalar(1), point(0)});
    net.elements.push_back({});
    for (int i = 0; i < 6; ++i) net.elements.back().push_back(node(i * (nodes / 6)));
    return net;
}

BlockMatrix block_matrix(const Net& net, const std::vector<ElementMatrix>& matrices) {
    BlockMatrix K(net.plan());
    for (std::size_t e = 0; e < matrices.size(); ++e) K.add(e, matrices[e]);
    return K;
}

MatX dense_matrix(const Net& net, const std::vector<ElementMatrix>& matrices) {
    MatX K = MatX::Zero(net.numbering.size(), net.numbering.size());
    for (std::size_t e = 0; e < matrices.size(); ++e) {
        std::vector<int> places;
        for (const Touch& touch : net.elements[e])
            for (int i = 0; i < touch.width(); ++i) places.push_back(touch.first(net.numbering) + i);
        K(places, places) += MatX(matrices[e]);
    }
    return K;
}

VecX random_vector(int n, unsigned seed) {
    Random random(seed);
    VecX x(n);
    for (double& entry : x) entry = random.number();
    return x;
}

/// All used freedoms that are not held.
std::vector<int> free_freedoms(const Net& net, const std::vector<int>& held) {
    std::vector<int> free;
    for (int i = 0; i < net.numbering.used(); ++i)
        if (std::find(held.begin(), held.end(), i) == held.end()) free.push_back(i);
    return free;
}

constexpr double definite = 14;  // above the largest row sum of an element's random entries
constexpr double indefinite = 0.5;
const std::vector<int> some_held{0, 1,  2,  3,  4,
                                 5, 13, 21, 44, 48};  // a node, a part of two, of a point, a scalar

TEST(BlockMatrix, IsTheSumOfItsElementsAtTheirPlaces) {
    const Net net;
    const auto matrices = net.matrices(1, indefinite);
    EXPECT_LT((block_matrix(net, matrices).dense() - dense_matrix(net, matrices)).norm(),
              1e-14);  // roundings
}

TEST(BlockMatrix, TimesAVectorIsTheDenseProduct) {
    const Net net;
    const auto matrices = net.matrices(2, indefinite);
    const VecX x = random_vector(net.numbering.size(), 3);
    EXPECT_LT((block_matrix(net, matrices).times(x) - dense_matrix(net, matrices) * x).norm(),
              1e-13);  // roundings
}

TEST(BlockMatrix, RaiseAddsToTheDiagonalInTheSystemsOrder) {
    const Net net;
    const auto matrices = net.matrices(1, indefinite);
    BlockMatrix K = block_matrix(net, matrices);
    const VecX diagonal = VecX::LinSpaced(net.numbering.size(), 1, 2);
    K.raise(diagonal);
    EXPECT_LT((K.dense() - dense_matrix(net, matrices) - MatX(diagonal.asDiagonal())).norm(),
              1e-14);  // roundings
}

TEST(BlockMatrix, IsEmptyAgainAfterSetZero) {
    const Net net;
    BlockMatrix K = block_matrix(net, net.matrices(1, indefinite));
    K.set_zero();
    EXPECT_EQ(K.dense().norm(), 0);
}

/// Error of a solution against Eigen's factorisation with full pivoting, held freedoms struck out, relative.
double solution_error(unsigned seed, double shift, const std::vector<int>& held, const Net& net = {}) {
    const auto matrices = net.matrices(seed, shift);
    BlockFactor factor(net.plan());
    EXPECT_TRUE(factor.factor(block_matrix(net, matrices), held));
    const VecX b = random_vector(net.numbering.size(), seed + 100), x = factor.solve(b);
    const std::vector<int> free = free_freedoms(net, held);
    const MatX K = dense_matrix(net, matrices)(free, free);
    const VecX expected = Eigen::FullPivLU<MatX>(K).solve(VecX(b(free)));
    return (VecX(x(free)) - expected).norm() / expected.norm();
}

TEST(BlockFactor, SolvesADefiniteSystem) {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        EXPECT_LT(solution_error(seed, definite, {}), 1e-14);  // condition about ten
        EXPECT_LT(solution_error(seed, definite, some_held), 1e-14);
    }
}

TEST(BlockFactor, SolvesAnIndefiniteSystem) {
    // Without pivoting a small pivot costs digits: six here and there among twenty systems.
    for (unsigned seed = 1; seed <= 20; ++seed) {
        EXPECT_LT(solution_error(seed, indefinite, {}), 1e-10) << seed;
        EXPECT_LT(solution_error(seed, indefinite, some_held), 1e-10) << seed;
    }
}

TEST(BlockFactor, SolvesDefiniteMeshes) {
    const double mesh_definite = 36;  // as above, for an element over six nodes
    for (const auto& [across, along] : {std::pair{2, 40}, {9, 13}, {11, 11}})
        for (const std::vector<int>& held : {std::vector<int>{}, some_held})
            EXPECT_LT(solution_error(1, mesh_definite, held, mesh(across, along)), 1e-13) << across;
}

TEST(BlockFactor, SolvesIndefiniteMeshes) {
    for (const auto& [across, along] : {std::pair{2, 40}, {9, 13}, {11, 11}})
        for (const std::vector<int>& held : {std::vector<int>{}, some_held})
            EXPECT_LT(solution_error(1, indefinite, held, mesh(across, along)), 1e-8) << across;
}

TEST(BlockFactor, CountsNegativeEigenvaluesOfAMesh) {
    for (const double shift : {0., 1., 2.}) {
        const Net net = mesh(8, 9);
        const auto matrices = net.matrices(1, shift);
        BlockFactor factor(net.plan());
        ASSERT_TRUE(factor.factor(block_matrix(net, matrices), some_held));
        const std::vector<int> free = free_freedoms(net, some_held);
        const MatX K = dense_matrix(net, matrices)(free, free);
        const VecX eigenvalues = Eigen::SelfAdjointEigenSolver<MatX>(K).eigenvalues();
        EXPECT_EQ(factor.negative_pivots(), (eigenvalues.array() < 0).count()) << shift;
        EXPECT_GT(factor.negative_pivots(), 0);
    }
}

TEST(BlockFactor, OfAMeshIsTheSameEveryTime) {
    const Net net = mesh(9, 13);
    const BlockMatrix K = block_matrix(net, net.matrices(1, indefinite));
    const VecX b = random_vector(net.numbering.size(), 5);
    BlockFactor one(net.plan()), other(net.plan());
    ASSERT_TRUE(one.factor(K, some_held));
    ASSERT_TRUE(other.factor(K, some_held));
    EXPECT_EQ(one.solve(b), other.solve(b));
}

TEST(BlockFactor, CountsNegativeEigenvaluesByItsPivots) {
    const Net net;
    for (unsigned seed = 1; seed <= 20; ++seed)
        for (const std::vector<int>& held : {std::vector<int>{}, some_held}) {
            const auto matrices = net.matrices(seed, indefinite);
            BlockFactor factor(net.plan());
            ASSERT_TRUE(factor.factor(block_matrix(net, matrices), held));
            const std::vector<int> free = free_freedoms(net, held);
            const MatX K = dense_matrix(net, matrices)(free, free);
            const VecX eigenvalues = Eigen::SelfAdjointEigenSolver<MatX>(K).eigenvalues();
            EXPECT_EQ(factor.negative_pivots(), (eigenvalues.array() < 0).count()) << seed;
            EXPECT_GT(factor.negative_pivots(), 0);
        }
}

TEST(BlockFactor, HasNoNegativePivotOfADefiniteSystem) {
    const Net net;
    BlockFactor factor(net.plan());
    ASSERT_TRUE(factor.factor(block_matrix(net, net.matrices(1, definite)), some_held));
    EXPECT_EQ(factor.negative_pivots(), 0);
}

TEST(BlockFactor, GivesHeldAndEmptyFreedomsZero) {
    const Net net;
    BlockFactor factor(net.plan());
    ASSERT_TRUE(factor.factor(block_matrix(net, net.matrices(1, definite)), some_held));
    const VecX x = factor.solve(VecX::Ones(net.numbering.size()));
    for (const int f : some_held) EXPECT_EQ(x[f], 0);
    for (int f = net.numbering.used(); f < net.numbering.size(); ++f) EXPECT_EQ(x[f], 0);
}

TEST(BlockFactor, ForgetsWhatItFactoredBefore) {
    const Net net;
    BlockFactor used(net.plan()), fresh(net.plan());
    const BlockMatrix K = block_matrix(net, net.matrices(1, definite));
    ASSERT_TRUE(used.factor(block_matrix(net, net.matrices(2, indefinite)), some_held));
    ASSERT_TRUE(used.factor(K, {}));
    ASSERT_TRUE(fresh.factor(K, {}));
    const VecX b = random_vector(net.numbering.size(), 5);
    EXPECT_EQ(used.solve(b), fresh.solve(b));
    EXPECT_EQ(used.negative_pivots(), 0);
}

/// Two scalars with the matrix (a, c; c, 1): the second pivot is 1 − c²/a.
BlockMatrix pair(double c, double a = 1) {
    static const std::vector<Touch> touches{scalar(0), scalar(1)};
    BlockMatrix K(std::make_shared<const Plan>(Numbering{.scalars = 2}, std::vector{&touches}));
    ElementMatrix H(2, 2);
    H << a, c, c, 1;
    K.add(0, H);
    return K;
}

BlockFactor factor_of(const BlockMatrix& K) {
    return BlockFactor(std::make_shared<const Plan>(K.plan()));
}

TEST(BlockFactor, RefusesAZeroPivot) {
    EXPECT_FALSE(factor_of(pair(1)).factor(pair(1), {}));
}

TEST(BlockFactor, RefusesWhatIsNotANumber) {
    const BlockMatrix K = pair(std::numeric_limits<double>::quiet_NaN());
    EXPECT_FALSE(factor_of(K).factor(K, {}));
}

TEST(BlockFactor, TakesAZeroPivotThatIsHeld) {
    const std::vector<int> held{1};
    EXPECT_TRUE(factor_of(pair(1)).factor(pair(1), held));
}

TEST(BlockFactor, NamesTheFreedomWhosePivotLostMost) {
    BlockFactor factor = factor_of(pair(0.5));
    ASSERT_TRUE(factor.factor(pair(0.5), {}));
    EXPECT_EQ(factor.weakest_freedom(), 1);
    EXPECT_DOUBLE_EQ(factor.weakest_ratio(), 0.75);
}

TEST(BlockFactor, GivesTheWeakestRatioItsSign) {
    BlockFactor factor = factor_of(pair(2));
    ASSERT_TRUE(factor.factor(pair(2), {}));
    EXPECT_EQ(factor.negative_pivots(), 1);
    EXPECT_DOUBLE_EQ(factor.weakest_ratio(), -3);
}

TEST(BlockFactor, GrowsWhereAPivotCancelsAndAfterASmallOne) {
    BlockFactor factor = factor_of(pair(0));
    ASSERT_TRUE(factor.factor(pair(0.5), {}));
    EXPECT_DOUBLE_EQ(factor.growth(), 1 / 0.75);
    ASSERT_TRUE(factor.factor(pair(1, 1e-3), {}));
    EXPECT_DOUBLE_EQ(factor.growth(), 999);
    ASSERT_TRUE(factor.factor(pair(0), {}));
    EXPECT_EQ(factor.growth(), 1);
}

TEST(BlockFactor, RefinesWhatAPoorPivotLeaves) {
    // x = (1, 1). A pivot of 1e-10 leaves 1e-6 of it wrong, which is the share of that again after one
    // refinement.
    const BlockMatrix K = pair(1, 1e-10);
    BlockFactor factor = factor_of(K);
    ASSERT_TRUE(factor.factor(K, {}));
    EXPECT_GT(factor.growth(), poor_growth);
    VecX b = VecX::Zero(6);
    b.head<2>() << 1 + 1e-10, 2;
    EXPECT_LT((factor.solve(b).head<2>() - Vec2(1, 1)).norm(), 1e-11);
}

TEST(BlockFactor, RefinesWithHeldFreedomsStruckOut) {
    const Net net;
    BlockMatrix K = block_matrix(net, net.matrices(1, definite));
    // The first pivot of all that is not held.
    int first = 6 * net.plan()->slot_at[0];
    while (std::ranges::count(some_held, first)) ++first;
    VecX lowered = VecX::Zero(net.numbering.size());
    lowered[first] = 1e-10 - K.diagonal()[first];
    K.raise(lowered);
    BlockFactor factor(net.plan());
    ASSERT_TRUE(factor.factor(K, some_held));
    EXPECT_GT(factor.growth(), poor_growth);
    VecX x = random_vector(net.numbering.size(), 5);
    for (const int f : some_held) x[f] = 0;
    x.tail(net.numbering.size() - net.numbering.used()).setZero();
    EXPECT_LT((factor.solve(K.times(x)) - x).norm(), 1e-10 * x.norm());  // 1e-6 before it is refined
}

}  // namespace
}  // namespace limbwright::solver::block_matrix_test
