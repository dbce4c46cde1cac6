#pragma once

#include <memory>
#include <span>
#include <utility>
#include <vector>

#include "solver/lanes/lanes.hpp"
#include "solver/system/symbolic_factor.hpp"

/// The tangent in lanes, and its elimination.
namespace limbwright::solver {

using Block = Matrix6<Lanes>;
using LaneVectorX = std::vector<Lanes>;  // Eigen's heap is not aligned for lanes

namespace detail {

/// Column j of C −= A Bᵀ, from row `first` on.
template <int j, int first>
[[gnu::always_inline]] inline void subtract_column(Block& C, const Block& A, const Block& B) {
    Lanes column[6];
    for (int i = first; i < 6; ++i) column[i] = C(i, j);
    for (int k = 0; k < 6; ++k) {
        const Lanes b = B(j, k);
        for (int i = first; i < 6; ++i) column[i] -= A(i, k) * b;
    }
    for (int i = first; i < 6; ++i) C(i, j) = column[i];
}

/// C −= A Bᵀ.
[[gnu::always_inline]] inline void subtract_product(Block& C, const Block& A, const Block& B) {
    [&]<int... j>(std::integer_sequence<int, j...>) {
        (subtract_column<j, 0>(C, A, B), ...);
    }
    (std::make_integer_sequence<int, 6>());
}

/// The lower triangle of it, which is all that a diagonal block needs.
[[gnu::always_inline]] inline void subtract_product_below(Block& C, const Block& A, const Block& B) {
    [&]<int... j>(std::integer_sequence<int, j...>) {
        (subtract_column<j, j>(C, A, B), ...);
    }
    (std::make_integer_sequence<int, 6>());
}

/// y −= B x.
[[gnu::always_inline]] inline void subtract_times(Lanes* y, const Block& B, const Lanes* x) {
    Lanes sum[6];
    for (int i = 0; i < 6; ++i) sum[i] = y[i];
    for (int j = 0; j < 6; ++j) {
        const Lanes xj = x[j];
        for (int i = 0; i < 6; ++i) sum[i] -= B(i, j) * xj;
    }
    for (int i = 0; i < 6; ++i) y[i] = sum[i];
}

/// y −= Bᵀ x.
[[gnu::always_inline]] inline void subtract_transposed_times(Lanes* y, const Block& B, const Lanes* x) {
    for (int j = 0; j < 6; ++j) {
        Lanes even = B(0, j) * x[0], odd = B(1, j) * x[1];
        even += B(2, j) * x[2];
        odd += B(3, j) * x[3];
        even += B(4, j) * x[4];
        odd += B(5, j) * x[5];
        y[j] -= even + odd;
    }
}

}  // namespace detail

/// L D Lᵀ of a block matrix in lanes, as `BlockFactor` has it; matrix and factor share their memory.
class LaneFactor {
public:
    explicit LaneFactor(std::shared_ptr<const Plan> plan)
        : plan_(std::move(plan)),
          blocks_(static_cast<std::size_t>(plan_->blocks)),
          inverse_pivots_(static_cast<std::size_t>(plan_->slots)),
          held_(static_cast<std::size_t>(plan_->numbering.size())) {
        // The first contribution to a block is put there, not added.
        std::vector<char> touched(blocks_.size(), 0);
        for (const std::vector<Plan::Scatter>& pairs : plan_->scatter) {
            std::vector<char> first;
            for (const Plan::Scatter& s : pairs) {
                char& seen = touched[static_cast<std::size_t>(s.block)];
                first.push_back(!seen && s.rows == 6 && s.columns == 6);
                if (!seen && !first.back()) cleared_.push_back(s.block);
                seen = 1;
            }
            first_.push_back(std::move(first));
        }
        for (std::size_t b = 0; b < blocks_.size(); ++b)
            if (!touched[b]) cleared_.push_back(static_cast<int>(b));
    }

    /// Before the elements' Hessians are added in their order.
    void clear() {
        for (const int b : cleared_) blocks_[static_cast<std::size_t>(b)].setZero();
    }
    template <class Hessian>
    void add(std::size_t e, const Hessian& H) {
        const std::vector<Plan::Scatter>& pairs = plan_->scatter[e];
        for (std::size_t k = 0; k < pairs.size(); ++k) {
            const Plan::Scatter& s = pairs[k];
            Block& block = blocks_[static_cast<std::size_t>(s.block)];
            if (first_[e][k])
                block = H.template block<6, 6>(s.from_row, s.from_column);
            else if (s.rows == 6 && s.columns == 6)
                block += H.template block<6, 6>(s.from_row, s.from_column);
            else
                for (int c = 0; c < s.columns; ++c)
                    for (int r = 0; r < s.rows; ++r)
                        block(s.row + r, s.column + c) += H(s.from_row + r, s.from_column + c);
        }
    }

    void factor(std::span<const int> held) {
        strike(held);
        eliminate();
    }
    [[nodiscard]] bool is_held(std::size_t freedom) const { return held_[freedom] != 0; }
    /// Number of negative pivots in each lane.
    [[nodiscard]] const Lanes& negative() const { return negative_; }

    [[nodiscard]] LaneVectorX solved(LaneVectorX x) const {
        const Plan& plan = *plan_;
        for (std::size_t f = 0; f < x.size(); ++f)
            if (held_[f]) x[f] = Lanes(0);
        const auto at = [&](int place) {
            return 6 * static_cast<std::size_t>(plan.slot_at[static_cast<std::size_t>(place)]);
        };
        for (int k = 0; k < plan.slots; ++k) {
            const Block& L = blocks_[static_cast<std::size_t>(k)];
            Lanes* own = &x[at(k)];
            for (int j = 0; j < 6; ++j)
                for (int i = j + 1; i < 6; ++i) own[i] -= L(i, j) * own[j];
            for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                detail::subtract_times(&x[at(entry.row)], blocks_[static_cast<std::size_t>(entry.block)],
                                       own);
        }
        for (int k = plan.slots - 1; k >= 0; --k) {
            const Block& L = blocks_[static_cast<std::size_t>(k)];
            Lanes* own = &x[at(k)];
            for (int j = 0; j < 6; ++j) own[j] *= inverse_pivots_[static_cast<std::size_t>(k)][j];
            for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                detail::subtract_transposed_times(own, blocks_[static_cast<std::size_t>(entry.block)],
                                                  &x[at(entry.row)]);
            for (int j = 5; j >= 0; --j)
                for (int i = j + 1; i < 6; ++i) own[j] -= L(i, j) * own[i];
        }
        return x;
    }

private:
    void strike(std::span<const int> held) {
        const Plan& plan = *plan_;
        std::fill(held_.begin(), held_.end(), 0);
        for (const int f : held) held_[static_cast<std::size_t>(f)] = 1;
        for (int f = plan.numbering.used(); f < plan.numbering.size(); ++f)
            held_[static_cast<std::size_t>(f)] = 1;
        const auto is_held = [&](int place, int i) {
            return held_[static_cast<std::size_t>(6 * plan.slot_at[static_cast<std::size_t>(place)] + i)] !=
                   0;
        };
        for (int k = 0; k < plan.slots; ++k)
            for (int i = 0; i < 6; ++i) {
                if (!is_held(k, i)) continue;
                Block& block = blocks_[static_cast<std::size_t>(k)];
                block.row(i).setZero();
                block.col(i).setZero();
                block(i, i) = Lanes(1);
                for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                    blocks_[static_cast<std::size_t>(entry.block)].col(i).setZero();
            }
        for (int k = 0; k < plan.slots; ++k)
            for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
                for (int i = 0; i < 6; ++i)
                    if (is_held(entry.row, i))
                        blocks_[static_cast<std::size_t>(entry.block)].row(i).setZero();
    }

    /// L D Lᵀ in place, as `BlockFactor` does it.
    void eliminate() {
        const Plan& plan = *plan_;
        negative_ = Lanes(0);
        std::vector<Block> scaled;
        for (int k = 0; k < plan.slots; ++k) {
            Block& L = blocks_[static_cast<std::size_t>(k)];
            Vector6<Lanes>& inverse = inverse_pivots_[static_cast<std::size_t>(k)];
            for (int j = 0; j < 6; ++j) {
                negative_ += choose(L(j, j) < Lanes(0), Lanes(1), Lanes(0));
                inverse[j] = Lanes(1) / L(j, j);
                Lanes below[6];
                for (int i = j + 1; i < 6; ++i) below[i] = L(i, j) * inverse[j];
                for (int c = j + 1; c < 6; ++c) {
                    const Lanes l = L(c, j);
                    for (int i = c; i < 6; ++i) L(i, c) -= below[i] * l;
                }
                for (int i = j + 1; i < 6; ++i) L(i, j) = below[i];
            }
            const std::vector<Plan::Entry>& column = plan.columns[static_cast<std::size_t>(k)];
            scaled.resize(column.size());
            for (std::size_t e = 0; e < column.size(); ++e) {
                Block& B = blocks_[static_cast<std::size_t>(column[e].block)];
                Block& W = scaled[e];
                for (int c = 0; c < 6; ++c) {
                    Lanes w[6];
                    for (int r = 0; r < 6; ++r) w[r] = B(r, c);
                    for (int m = 0; m < c; ++m) {
                        const Lanes l = L(c, m);
                        for (int r = 0; r < 6; ++r) w[r] -= W(r, m) * l;
                    }
                    for (int r = 0; r < 6; ++r) {
                        W(r, c) = w[r];
                        B(r, c) = w[r] * inverse[c];
                    }
                }
            }
            const std::vector<int>& targets = plan.updates[static_cast<std::size_t>(k)];
            std::size_t t = 0;
            for (std::size_t i = 0; i < column.size(); ++i)
                for (std::size_t j = 0; j <= i; ++j) {
                    Block& target = blocks_[static_cast<std::size_t>(targets[t++])];
                    const Block& B = blocks_[static_cast<std::size_t>(column[j].block)];
                    if (i == j)
                        detail::subtract_product_below(target, scaled[i], B);
                    else
                        detail::subtract_product(target, scaled[i], B);
                }
        }
    }

    std::shared_ptr<const Plan> plan_;
    std::vector<Block> blocks_;
    std::vector<Vector6<Lanes>> inverse_pivots_;
    std::vector<char> held_;
    std::vector<std::vector<char>> first_;
    std::vector<int> cleared_;
    Lanes negative_{0};
};

}  // namespace limbwright::solver
