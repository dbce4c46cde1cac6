#pragma once

#include <algorithm>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "solver/system/symbolic_factor.hpp"

namespace limbwright::solver {

/// The tangent of a system in 6×6 blocks.
class BlockMatrix {
public:
    explicit BlockMatrix(std::shared_ptr<const Plan> plan);

    void set_zero();
    void add(std::size_t element, const ElementMatrix& H);
    [[nodiscard]] VecX diagonal() const;  ///< in the system's order
    /// Adds to the diagonal, in the system's order.
    void raise(const VecX& diagonal);
    [[nodiscard]] VecX times(const VecX& x) const;
    [[nodiscard]] MatX dense() const;  ///< in the system's order, for tests
    [[nodiscard]] const Plan& plan() const { return *plan_; }
    [[nodiscard]] const std::vector<Mat6>& blocks() const { return blocks_; }

private:
    std::shared_ptr<const Plan> plan_;
    std::vector<Mat6> blocks_;
};

/// Growth past which solutions are refined: half of a number's digits.
inline constexpr double poor_growth = 1e8;
/// Growth past which a pivot cannot be told from rounding, nor its sign.
inline constexpr double hopeless_growth = 1e13;

/// L D Lᵀ of a block matrix with some freedoms held, in the plan's order; memory is made once and filled
/// often.
///
/// No pivoting: an indefinite tangent is factored all the same, and the signs of D count its negative
/// eigenvalues (Sylvester's law of inertia).
class BlockFactor {
public:
    explicit BlockFactor(std::shared_ptr<const Plan> plan);

    /// @param held  freedoms with their rows and columns struck out
    /// @return false if a pivot is zero or not a number
    [[nodiscard]] bool factor(const BlockMatrix& matrix, std::span<const int> held);
    /// x with K x = b; held freedoms get zero. Past `poor_growth` refined once with the matrix.
    [[nodiscard]] VecX solve(const VecX& b) const;
    /// Number of negative pivots: directions in which the state is unstable.
    [[nodiscard]] int negative_pivots() const { return negative_; }
    /// Freedom with the smallest pivot against its size before elimination, and that ratio, signed.
    [[nodiscard]] int weakest_freedom() const { return weakest_; }
    [[nodiscard]] double weakest_ratio() const { return weakest_ratio_; }
    /// How much rounding has grown: the largest factor by which elimination changed the size of a pivot, be
    /// it down, where a sum cancels, or up, where it follows a small one.
    [[nodiscard]] double growth() const { return std::max(largest_change_, 1 / least_change_); }

private:
    /// Puts zero in the rows and columns of held freedoms and one on their diagonal.
    void strike(std::span<const int> held);
    [[nodiscard]] VecX substituted(const VecX& b) const;
    /// L D Lᵀ of a diagonal block in place; false if a pivot is zero or not a number.
    [[nodiscard]] bool eliminate(int place);

    std::shared_ptr<const Plan> plan_;
    std::vector<Mat6> blocks_;
    std::vector<Vec6> pivots_, before_;
    std::vector<char> held_;
    int negative_ = 0, weakest_ = -1;
    double weakest_ratio_ = 1, least_change_ = 1, largest_change_ = 1;
    std::optional<BlockMatrix> refined_with_;  ///< the matrix, where growth is poor
};

}  // namespace limbwright::solver
