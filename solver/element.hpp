#pragma once

#include <complex>
#include <string>
#include <vector>

#include "solver/frame.hpp"

namespace limbwright::solver {

/// A node, a point or a scalar that an element touches, in the order of the element's own vectors.
struct Touch {
    NodeId node{};
    PointId point{};
    ScalarId scalar{};

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
[[nodiscard]] int freedom_count(const std::vector<Touch>& touches);

/// Collects what frames touch, each once, and remembers where each frame's increments stand among them.
class TouchList {
public:
    /// @return for every increment of the frame, its place in the element's vectors
    std::vector<int> add(const Frame& frame);
    [[nodiscard]] const std::vector<Touch>& touches() const { return touches_; }
    [[nodiscard]] int size() const { return size_; }

private:
    int place(const Touch& touch);
    std::vector<Touch> touches_;
    std::vector<int> places_;
    int size_ = 0;
};

/// Adds what two frames' poses contribute to an element: gradient (12) and Hessian (12×12) by the poses'
/// increments (δx, δθ own axes; first frame, then second), pulled back to the frames' freedoms, second order
/// included.
void add_pulled_back(const FrameMotion& first, const std::vector<int>& first_places,
                     const FrameMotion& second, const std::vector<int>& second_places, const Vec12& gradient,
                     const Mat12& hessian, ElementVector& g, ElementMatrix& H);

/// The gradient alone.
void add_pulled_back(const FrameMotion& motion, const std::vector<int>& places, const Vec6& gradient,
                     ElementVector& g);

}  // namespace limbwright::solver
