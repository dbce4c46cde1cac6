#include "solver/block_matrix.hpp"

#include <cmath>

namespace limbwright::solver {

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
    const Plan& plan = *plan_;
    blocks_ = matrix.blocks();
    std::fill(held_.begin(), held_.end(), 0);
    for (const int f : held) held_[static_cast<std::size_t>(f)] = 1;
    for (int f = plan.numbering.used(); f < plan.numbering.size(); ++f)
        held_[static_cast<std::size_t>(f)] = 1;
    const auto is_held = [&](int place, int i) {
        return held_[static_cast<std::size_t>(6 * plan.slot_at[static_cast<std::size_t>(place)] + i)] != 0;
    };
    const auto any_held = [&](int place) {
        bool any = false;
        for (int i = 0; i < 6; ++i) any |= is_held(place, i);
        return any;
    };
    for (int k = 0; k < plan.slots; ++k) {
        const bool strike_column = any_held(k);
        if (strike_column)
            for (int i = 0; i < 6; ++i)
                if (is_held(k, i)) {
                    Mat6& block = blocks_[static_cast<std::size_t>(k)];
                    block.row(i).setZero();
                    block.col(i).setZero();
                    block(i, i) = 1;
                }
        for (const Plan::Entry& entry : plan.columns[static_cast<std::size_t>(k)]) {
            Mat6& block = blocks_[static_cast<std::size_t>(entry.block)];
            const bool strike_row = any_held(entry.row);
            for (int i = 0; i < 6; ++i) {
                if (strike_column && is_held(k, i)) block.col(i).setZero();
                if (strike_row && is_held(entry.row, i)) block.row(i).setZero();
            }
        }
        before_[static_cast<std::size_t>(k)] = blocks_[static_cast<std::size_t>(k)].diagonal();
    }

    negative_ = 0;
    weakest_ = -1;
    weakest_ratio_ = 1;
    std::vector<Mat6> scaled;  // W = B L⁻ᵀ of the current column
    for (int k = 0; k < plan.slots; ++k) {
        Mat6& L = blocks_[static_cast<std::size_t>(k)];
        Vec6& d = pivots_[static_cast<std::size_t>(k)];
        for (int j = 0; j < 6; ++j) {
            d[j] = L(j, j);
            if (!(std::abs(d[j]) > 0) || !std::isfinite(d[j])) return false;
            if (!is_held(k, j)) {
                if (d[j] < 0) ++negative_;
                const double ratio = d[j] / std::abs(before_[static_cast<std::size_t>(k)][j]);
                if (ratio < weakest_ratio_) {
                    weakest_ratio_ = ratio;
                    weakest_ = 6 * plan.slot_at[static_cast<std::size_t>(k)] + j;
                }
            }
            const double inverse = 1 / d[j];
            for (int i = j + 1; i < 6; ++i) {
                const double l = L(i, j) * inverse;
                for (int c = j + 1; c <= i; ++c) L(i, c) -= l * L(c, j);
            }
            for (int i = j + 1; i < 6; ++i) L(i, j) *= inverse;
        }
        const std::vector<Plan::Entry>& column = plan.columns[static_cast<std::size_t>(k)];
        const Vec6 inverse = d.cwiseInverse();
        scaled.resize(column.size());
        for (std::size_t e = 0; e < column.size(); ++e) {
            Mat6& B = blocks_[static_cast<std::size_t>(column[e].block)];
            for (int c = 1; c < 6; ++c)
                for (int m = 0; m < c; ++m) B.col(c) -= B.col(m) * L(c, m);
            scaled[e] = B;
            B = B * inverse.asDiagonal();
        }
        const std::vector<int>& targets = plan.updates[static_cast<std::size_t>(k)];
        std::size_t t = 0;
        for (std::size_t i = 0; i < column.size(); ++i)
            for (std::size_t j = 0; j <= i; ++j)
                blocks_[static_cast<std::size_t>(targets[t++])].noalias() -=
                    scaled[i].lazyProduct(blocks_[static_cast<std::size_t>(column[j].block)].transpose());
    }
    return true;
}

VecX BlockFactor::solve(const VecX& b) const {
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
