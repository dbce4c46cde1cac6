#pragma once

#include <array>
#include <complex>
#include <string>
#include <vector>

#include "solver/elements/frame.hpp"

namespace limbwright::solver {

/// A node, a point or a scalar that an element touches, in the order of the element's own vectors.
struct Touch {
    NodeId node{};
    PointId point{};
    ScalarId scalar{};
    bool slides = false;  ///< the scalar is a length [mm], not an angle [rad]

    auto operator<=>(const Touch&) const = default;
    [[nodiscard]] int width() const { return node.value >= 0 ? 6 : point.value >= 0 ? 3 : 1; }
    [[nodiscard]] int first(const Numbering& n) const {
        return node.value >= 0 ? n.first(node) : point.value >= 0 ? n.first(point) : n.first(scalar);
    }
};

/// Everything mechanical is an energy of the state. An element gives it with its exact first and second
/// derivative by the increments of what it touches (see `moved`).
class Element {
public:
    virtual ~Element() = default;
    /// What it touches, each once; fixes the order of `gradient` and `hessian`.
    [[nodiscard]] virtual const std::vector<Touch>& touches() const = 0;
    [[nodiscard]] virtual double energy(const State& state) const = 0;  ///< [N mm]
    /// The same in complex numbers, for derivative checks to the last digit.
    [[nodiscard]] virtual std::complex<double> energy(const StateOf<std::complex<double>>& state) const = 0;
    virtual void gradient(const State& state, ElementVector& g) const = 0;
    virtual void gradient_and_hessian(const State& state, ElementVector& g, ElementMatrix& H) const = 0;
};

/// Number of increments of all touched.
///
/// @throws std::length_error for more than `max_element_freedoms`
[[nodiscard]] int freedom_count(const std::vector<Touch>& touches);

/// Collects what frames touch, each once, and remembers where each frame's increments stand among them.
class TouchList {
public:
    /// @return for every increment of the frame, its place in the element's vectors
    /// @throws std::length_error past `max_element_freedoms`, std::invalid_argument for a scalar that another
    ///         frame takes for an angle and this one for a length
    std::vector<int> add(const Frame& frame);
    [[nodiscard]] const std::vector<Touch>& touches() const { return touches_; }
    [[nodiscard]] int size() const { return size_; }

private:
    int place(const Touch& touch);
    std::vector<Touch> touches_;
    std::vector<int> places_;
    int size_ = 0;
};

/// Adds a gradient by a frame's pose (δx, δθ own axes), pulled back to the frame's freedoms.
///
/// @param places  of the frame's increments in the element's vectors
template <class T>
void add_pulled_back(const FrameMotionOf<T>& motion, const std::vector<int>& places,
                     const Vector6<T>& gradient, ElementVectorOf<T>& g) {
    const Eigen::Matrix<T, Eigen::Dynamic, 1, 0, FrameMotionOf<T>::max_freedoms, 1> own =
        motion.first().transpose().lazyProduct(gradient);
    for (std::size_t i = 0; i < places.size(); ++i) g[places[i]] += own[static_cast<int>(i)];
}

/// Adds what the poses of some frames contribute to an element: gradient (6 N) and Hessian (6 N × 6 N) by the
/// poses' increments (δx, δθ own axes; frame by frame), pulled back to the frames' freedoms, second order
/// included.
///
/// @param count  of the frames in use, at most N
template <class T, int N>
void add_pulled_back(const std::array<const FrameMotionOf<T>*, N>& motions,
                     const std::array<const std::vector<int>*, N>& places, int count,
                     const Eigen::Matrix<T, 6 * N, 1>& gradient,
                     const Eigen::Matrix<T, 6 * N, 6 * N>& hessian, ElementVectorOf<T>& g,
                     ElementMatrixOf<T>& H) {
    using Motion = FrameMotionOf<T>;
    for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
        const std::vector<int>& rows = *places[i];
        if (rows.empty()) continue;
        const Vector6<T> own = gradient.template segment<6>(6 * static_cast<int>(i));
        add_pulled_back(*motions[i], rows, own, g);
        const typename Motion::Second B = motions[i]->second(own.template head<3>(), own.template tail<3>());
        for (int r = 0; r < B.rows(); ++r)
            for (int c = 0; c < B.cols(); ++c)
                H(rows[static_cast<std::size_t>(r)], rows[static_cast<std::size_t>(c)]) += B(r, c);
        for (std::size_t j = 0; j < static_cast<std::size_t>(count); ++j) {
            const std::vector<int>& columns = *places[j];
            // Lazy: for such small sizes known only at run time Eigen would call its blocked product.
            const typename Motion::First half =
                hessian.template block<6, 6>(6 * static_cast<int>(i), 6 * static_cast<int>(j))
                    .lazyProduct(motions[j]->first());
            const typename Motion::Second block = motions[i]->first().transpose().lazyProduct(half);
            for (int r = 0; r < block.rows(); ++r)
                for (int c = 0; c < block.cols(); ++c)
                    H(rows[static_cast<std::size_t>(r)], columns[static_cast<std::size_t>(c)]) += block(r, c);
        }
    }
}

/// The same for two frames.
template <class T>
void add_pulled_back(const FrameMotionOf<T>& a, const std::vector<int>& a_places, const FrameMotionOf<T>& b,
                     const std::vector<int>& b_places, const Vector12<T>& gradient,
                     const Matrix12<T>& hessian, ElementVectorOf<T>& g, ElementMatrixOf<T>& H) {
    add_pulled_back<T, 2>({&a, &b}, {&a_places, &b_places}, 2, gradient, hessian, g, H);
}

}  // namespace limbwright::solver
