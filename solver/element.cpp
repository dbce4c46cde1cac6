#include "solver/element.hpp"

#include <algorithm>

namespace limbwright::solver {

int freedom_count(const std::vector<Touch>& touches) {
    int n = 0;
    for (const Touch& touch : touches) n += touch.width();
    return n;
}

int TouchList::place(const Touch& touch) {
    const auto found = std::find(touches_.begin(), touches_.end(), touch);
    if (found != touches_.end()) return places_[static_cast<std::size_t>(found - touches_.begin())];
    touches_.push_back(touch);
    places_.push_back(size_);
    size_ += touch.width();
    return places_.back();
}

std::vector<int> TouchList::add(const Frame& frame) {
    std::vector<int> places;
    const auto append = [&](const Touch& touch) {
        const int first = place(touch);
        for (int i = 0; i < touch.width(); ++i) places.push_back(first + i);
    };
    if (frame.node.value >= 0)
        append({.node = frame.node});
    else if (frame.point.value >= 0)
        append({.point = frame.point});
    for (int i = 0; i < frame.joint_count; ++i)
        append({.scalar = frame.joints[static_cast<std::size_t>(i)].scalar});
    return places;
}

void add_pulled_back(const FrameMotion& motion, const std::vector<int>& places, const Vec6& gradient,
                     ElementVector& g) {
    const Eigen::Matrix<double, Eigen::Dynamic, 1, 0, FrameMotion::max_freedoms, 1> own =
        motion.first().transpose() * gradient;
    for (std::size_t i = 0; i < places.size(); ++i) g[places[i]] += own[static_cast<int>(i)];
}

void add_pulled_back(const FrameMotion& a, const std::vector<int>& a_places, const FrameMotion& b,
                     const std::vector<int>& b_places, const Vec12& gradient, const Mat12& hessian,
                     ElementVector& g, ElementMatrix& H) {
    const FrameMotion* motions[2] = {&a, &b};
    const std::vector<int>* places[2] = {&a_places, &b_places};
    for (int i = 0; i < 2; ++i) {
        const std::vector<int>& rows = *places[i];
        if (rows.empty()) continue;
        add_pulled_back(*motions[i], rows, gradient.segment<6>(6 * i), g);
        const FrameMotion::Second B =
            motions[i]->second(gradient.segment<3>(6 * i), gradient.segment<3>(6 * i + 3));
        for (int r = 0; r < B.rows(); ++r)
            for (int c = 0; c < B.cols(); ++c)
                H(rows[static_cast<std::size_t>(r)], rows[static_cast<std::size_t>(c)]) += B(r, c);
        for (int j = 0; j < 2; ++j) {
            const std::vector<int>& columns = *places[j];
            // Lazy: for such small sizes known only at run time Eigen would call its blocked product.
            const FrameMotion::First half =
                hessian.block<6, 6>(6 * i, 6 * j).lazyProduct(motions[j]->first());
            const FrameMotion::Second block = motions[i]->first().transpose().lazyProduct(half);
            for (int r = 0; r < block.rows(); ++r)
                for (int c = 0; c < block.cols(); ++c)
                    H(rows[static_cast<std::size_t>(r)], columns[static_cast<std::size_t>(c)]) += block(r, c);
        }
    }
}

}  // namespace limbwright::solver
