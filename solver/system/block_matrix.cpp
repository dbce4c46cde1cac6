#include "solver/system/block_matrix.hpp"

#include <algorithm>
#include <cmath>

namespace limbwright::solver {
namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Columns of the factor side by side that have the same rows below. Working with all of them at once spares
/// most of the traffic to and from memory.
struct Panel {
    const Mat6 *scaled, *factor;  ///< B D and B
    const int* starts;            ///< per column, the place of the block in row 0
    int columns;
};

using Two = double __attribute__((vector_size(16), aligned(16), may_alias));
using Four = double __attribute__((vector_size(32), aligned(16), may_alias));

/// Columns j, j+1 and j+2 of C −= Σ A Bᵀ, A of the panel's row a and B of its row b: as many as registers
/// hold. They have names, for the compiler keeps an array of them in memory.
template <int j>
[[gnu::always_inline]] inline void subtract_three_columns(Mat6& C, const Panel& panel, int a, int b) {
    const auto four = [](auto* x) -> auto& {
        return *reinterpret_cast<Four*>(x);
    };
    const auto two = [](auto* x) -> auto& {
        return *reinterpret_cast<Two*>(x + 4);
    };
    double *const C0 = &C(0, j), *const C1 = &C(0, j + 1), *const C2 = &C(0, j + 2);
    Four upper0 = four(C0), upper1 = four(C1), upper2 = four(C2);
    Two lower0 = two(C0), lower1 = two(C1), lower2 = two(C2);
    for (int c = 0; c < panel.columns; ++c) {
        const double* A = panel.scaled[panel.starts[c] + a].data();
        const double* B = panel.factor[panel.starts[c] + b].data() + j;
        for (int k = 0; k < 6; ++k, A += 6, B += 6) {
            const Four upper = *reinterpret_cast<const Four*>(A);
            const Two lower = *reinterpret_cast<const Two*>(A + 4);
            upper0 -= upper * B[0];
            upper1 -= upper * B[1];
            upper2 -= upper * B[2];
            lower0 -= lower * B[0];
            lower1 -= lower * B[1];
            lower2 -= lower * B[2];
        }
    }
    four(C0) = upper0, four(C1) = upper1, four(C2) = upper2;
    two(C0) = lower0, two(C1) = lower1, two(C2) = lower2;
}

/// C −= Σ A Bᵀ: nearly all work of a factorisation. Machines with registers for four numbers do it in half
/// the time.
#if defined(__x86_64__)
[[gnu::target_clones("arch=x86-64-v3", "default")]]
#endif
void subtract_products(Mat6& C, const Panel& panel, int a, int b) {
    subtract_three_columns<0>(C, panel, a, b);
    subtract_three_columns<3>(C, panel, a, b);
}

}  // namespace

BlockMatrix::BlockMatrix(std::shared_ptr<const Plan> plan)
    : plan_(std::move(plan)), blocks_(static_cast<std::size_t>(plan_->blocks), Mat6::Zero()) {}

void BlockMatrix::set_zero() {
    for (Mat6& block : blocks_) block.setZero();
}

void BlockMatrix::add(std::size_t element, const ElementMatrix& H) {
    for (const Plan::Scatter& s : plan_->scatter[element]) {
        Mat6& block = blocks_[static_cast<std::size_t>(s.block)];
        if (s.rows == 6 && s.columns == 6)
            block += H.block<6, 6>(s.from_row, s.from_column);
        else
            block.block(s.row, s.column, s.rows, s.columns) +=
                H.block(s.from_row, s.from_column, s.rows, s.columns);
    }
}

VecX BlockMatrix::diagonal() const {
    VecX d(plan_->numbering.size());
    for (int k = 0; k < plan_->slots; ++k)
        d.segment<6>(6 * plan_->slot_at[static_cast<std::size_t>(k)]) =
            blocks_[static_cast<std::size_t>(k)].diagonal();
    return d;
}

void BlockMatrix::raise(const VecX& diagonal) {
    for (int k = 0; k < plan_->slots; ++k)
        blocks_[static_cast<std::size_t>(k)].diagonal() +=
            diagonal.segment<6>(6 * plan_->slot_at[static_cast<std::size_t>(k)]);
}

VecX BlockMatrix::times(const VecX& x) const {
    VecX y = VecX::Zero(x.size());
    for (int k = 0; k < plan_->slots; ++k) {
        const int j = 6 * plan_->slot_at[static_cast<std::size_t>(k)];
        y.segment<6>(j) += blocks_[static_cast<std::size_t>(k)] * x.segment<6>(j);
        for (const Plan::Entry& entry : plan_->columns[static_cast<std::size_t>(k)]) {
            const int i = 6 * plan_->slot_at[static_cast<std::size_t>(entry.row)];
            const Mat6& block = blocks_[static_cast<std::size_t>(entry.block)];
            y.segment<6>(i) += block * x.segment<6>(j);
            y.segment<6>(j) += block.transpose() * x.segment<6>(i);
        }
    }
    return y;
}

MatX BlockMatrix::dense() const {
    const int n = plan_->numbering.size();
    MatX K(n, n);
    for (int j = 0; j < n; ++j) K.col(j) = times(VecX::Unit(n, j));
    return K;
}

BlockFactor::BlockFactor(std::shared_ptr<const Plan> plan)
    : plan_(std::move(plan)),
      blocks_(static_cast<std::size_t>(plan_->blocks)),
      pivots_(static_cast<std::size_t>(plan_->slots)),
      before_(static_cast<std::size_t>(plan_->slots)),
      held_(static_cast<std::size_t>(plan_->numbering.size())) {}

bool BlockFactor::factor(const BlockMatrix& matrix, std::span<const int> held) {
    blocks_ = matrix.blocks();
    strike(held);
    negative_ = 0;
    weakest_ = -1;
    weakest_ratio_ = least_change_ = largest_change_ = 1;
    refined_with_.reset();
    const std::vector<std::vector<Plan::Entry>>& columns = plan_->columns;
    std::vector<Mat6> scaled;  // B D of the current panel
    std::vector<int> starts;
    int next = plan_->slots;  // first block of the panel
    for (int first = 0; first < plan_->slots;) {
        int end = first + 1;  // the same rows: the next column is the parent and lacks only its own row
        while (end < plan_->slots && columns[at(end - 1)].size() == columns[at(end)].size() + 1 &&
               columns[at(end - 1)].front().row == end)
            ++end;
        // Rows are counted from the first one below the panel; the panel's own rows have negative numbers.
        const int width = end - first, rows = static_cast<int>(columns[at(end - 1)].size());
        starts.clear();
        int size = 0;
        for (int c = 0; c < width; ++c) {
            starts.push_back(size + width - 1 - c);
            size += rows + width - 1 - c;
        }
        scaled.resize(std::max(scaled.size(), at(size)));
        Mat6* const factor = blocks_.data() + next;
        for (int c = 0; c < width; ++c) {
            const Panel before{scaled.data(), factor, starts.data(), c};
            Mat6& L = blocks_[at(first + c)];
            subtract_products(L, before, c - width, c - width);
            if (!eliminate(first + c)) return false;
            const Vec6 inverse = pivots_[at(first + c)].cwiseInverse();
            for (int row = c + 1 - width; row < rows; ++row) {
                Mat6& B = factor[starts[at(c)] + row];
                subtract_products(B, before, row, c - width);
                for (int j = 1; j < 6; ++j)
                    for (int m = 0; m < j; ++m) B.col(j) -= B.col(m) * L(j, m);
                scaled[at(starts[at(c)] + row)] = B;
                B = B * inverse.asDiagonal();
            }
        }
        const Panel panel{scaled.data(), factor, starts.data(), width};
        const int* target = plan_->updates[at(end - 1)].data();
        for (int i = 0; i < rows; ++i)
            for (int j = 0; j <= i; ++j) subtract_products(blocks_[at(*target++)], panel, i, j);
        next += size;
        first = end;
    }
    if (growth() > poor_growth) refined_with_ = matrix;
    return true;
}

void BlockFactor::strike(std::span<const int> held) {
    const Plan& plan = *plan_;
    std::fill(held_.begin(), held_.end(), 0);
    for (const int f : held) held_[at(f)] = 1;
    for (int f = plan.numbering.used(); f < plan.numbering.size(); ++f) held_[at(f)] = 1;
    const auto is_held = [&](int place, int i) { return held_[at(6 * plan.slot_at[at(place)] + i)] != 0; };
    std::vector<char> any_held(at(plan.slots), 0);
    for (int k = 0; k < plan.slots; ++k)
        for (int i = 0; i < 6; ++i) any_held[at(k)] |= is_held(k, i);
    for (int k = 0; k < plan.slots; ++k) {
        if (any_held[at(k)])
            for (int i = 0; i < 6; ++i)
                if (is_held(k, i)) {
                    Mat6& block = blocks_[at(k)];
                    block.row(i).setZero();
                    block.col(i).setZero();
                    block(i, i) = 1;
                }
        for (const Plan::Entry& entry : plan.columns[at(k)]) {
            if (!any_held[at(k)] && !any_held[at(entry.row)]) continue;
            Mat6& block = blocks_[at(entry.block)];
            for (int i = 0; i < 6; ++i) {
                if (is_held(k, i)) block.col(i).setZero();
                if (is_held(entry.row, i)) block.row(i).setZero();
            }
        }
        before_[at(k)] = blocks_[at(k)].diagonal();
    }
}

bool BlockFactor::eliminate(int k) {
    const int freedom = 6 * plan_->slot_at[at(k)];
    Mat6& L = blocks_[at(k)];
    Vec6& d = pivots_[at(k)];
    for (int j = 0; j < 6; ++j) {
        d[j] = L(j, j);
        if (!(std::abs(d[j]) > 0) || !std::isfinite(d[j])) return false;
        if (!held_[at(freedom + j)]) {
            if (d[j] < 0) ++negative_;
            const double ratio = d[j] / std::abs(before_[at(k)][j]);
            if (ratio < weakest_ratio_) {
                weakest_ratio_ = ratio;
                weakest_ = freedom + j;
            }
            least_change_ = std::min(least_change_, std::abs(ratio));
            largest_change_ = std::max(largest_change_, std::abs(ratio));
        }
        const double inverse = 1 / d[j];
        for (int i = j + 1; i < 6; ++i) {
            const double l = L(i, j) * inverse;
            for (int c = j + 1; c <= i; ++c) L(i, c) -= l * L(c, j);
        }
        for (int i = j + 1; i < 6; ++i) L(i, j) *= inverse;
    }
    return true;
}

VecX BlockFactor::solve(const VecX& b) const {
    VecX x = substituted(b);
    if (refined_with_) x += substituted(b - refined_with_->times(x));
    return x;
}

VecX BlockFactor::substituted(const VecX& b) const {
    const Plan& plan = *plan_;
    VecX x = b;
    for (int f = 0; f < x.size(); ++f)
        if (held_[static_cast<std::size_t>(f)]) x[f] = 0;
    for (int k = 0; k < plan.slots; ++k) {
        auto own = x.segment<6>(6 * plan.slot_at[static_cast<std::size_t>(k)]);
        blocks_[static_cast<std::size_t>(k)].triangularView<Eigen::UnitLower>().solveInPlace(own);
        for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
            x.segment<6>(6 * plan.slot_at[static_cast<std::size_t>(entry.row)]) -=
                blocks_[static_cast<std::size_t>(entry.block)] * own;
    }
    for (int k = 0; k < plan.slots; ++k)
        x.segment<6>(6 * plan.slot_at[static_cast<std::size_t>(k)]).array() /=
            pivots_[static_cast<std::size_t>(k)].array();
    for (int k = plan.slots - 1; k >= 0; --k) {
        auto own = x.segment<6>(6 * plan.slot_at[static_cast<std::size_t>(k)]);
        for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)])
            own -= blocks_[static_cast<std::size_t>(entry.block)].transpose() *
                   x.segment<6>(6 * plan.slot_at[static_cast<std::size_t>(entry.row)]);
        blocks_[static_cast<std::size_t>(k)].transpose().triangularView<Eigen::UnitUpper>().solveInPlace(own);
    }
    return x;
}

}  // namespace limbwright::solver
