#pragma once

#include <gtest/gtest.h>

#include <random>

#include "solver/elements/element.hpp"

/// The checks that every element must pass. Each returns an error relative to the size of what it checks.
namespace limbwright::testing {

using namespace limbwright::solver;
using Complex = std::complex<double>;

/// Complex steps lose no digits: what is left is the rounding of the formulas compared.
inline constexpr double complex_step_accuracy = 1e-11;
/// Central differences, step h = 1e-5 on quantities of order one: h² from truncation, ε/h from rounding.
inline constexpr double central_difference_accuracy = 1e-7;

inline StateOf<Complex> complex_state(const State& state) {
    StateOf<Complex> c;
    for (const Pose& X : state.nodes) c.nodes.push_back(cast<Complex>(X));
    for (const Vec3& p : state.points) c.points.push_back(p.cast<Complex>());
    for (const double s : state.scalars) c.scalars.push_back(s);
    return c;
}

inline Numbering numbering_of(const State& state) {
    return {static_cast<int>(state.nodes.size()), static_cast<int>(state.points.size()),
            static_cast<int>(state.scalars.size())};
}

/// Places of an element's increments in the vectors of the state.
inline std::vector<int> places(const Element& element, const State& state) {
    const Numbering n = numbering_of(state);
    std::vector<int> where;
    for (const Touch& touch : element.touches())
        for (int i = 0; i < touch.width(); ++i) where.push_back(touch.first(n) + i);
    return where;
}

/// Slope of the energy along each of the element's increments, at the state moved by `offset`, by complex
/// step.
inline VecX energy_slopes(const Element& element, const State& state, const VecX& offset) {
    constexpr double h = 1e-30;
    const std::vector<int> where = places(element, state);
    VecX slopes(static_cast<int>(where.size()));
    for (std::size_t i = 0; i < where.size(); ++i) {
        Eigen::VectorXcd step = offset.cast<Complex>();
        step[where[i]] += Complex(0, h);
        slopes[static_cast<int>(i)] = element.energy(moved(complex_state(state), step)).imag() / h;
    }
    return slopes;
}

inline double gradient_error(const Element& element, const State& state) {
    ElementVector g;
    element.gradient(state, g);
    const VecX slopes = energy_slopes(element, state, VecX::Zero(numbering_of(state).size()));
    ElementVector g2;
    ElementMatrix H;
    element.gradient_and_hessian(state, g2, H);
    return std::max((g - slopes).norm(), (g2 - slopes).norm()) / (slopes.norm() + 1e-300);
}

/// The Hessian against differences of complex-step slopes of the energy itself, so that a force and a tangent
/// that agree with each other but not with the energy are found.
inline double hessian_error(const Element& element, const State& state) {
    constexpr double h = 1e-5;
    ElementVector g;
    ElementMatrix H;
    element.gradient_and_hessian(state, g, H);
    const std::vector<int> where = places(element, state);
    MatX differences(where.size(), where.size());
    for (std::size_t j = 0; j < where.size(); ++j) {
        VecX offset = VecX::Zero(numbering_of(state).size());
        offset[where[j]] = h;
        differences.col(static_cast<int>(j)) =
            (energy_slopes(element, state, offset) - energy_slopes(element, state, -offset)) / (2 * h);
    }
    return (MatX(H) - differences).norm() / (differences.norm() + 1e-300);
}

inline double asymmetry(const Element& element, const State& state) {
    ElementVector g;
    ElementMatrix H;
    element.gradient_and_hessian(state, g, H);
    return (H - H.transpose()).norm() / (H.norm() + 1e-300);
}

/// The state turned and moved as a whole; scalars, and points as positions, go with it.
inline State rigidly_moved(const State& state, const Pose& motion) {
    State m = state;
    for (Pose& X : m.nodes) X = motion * X;
    for (Vec3& p : m.points) p = motion * p;
    return m;
}

/// Change of energy under a rigid motion, relative; only for elements that touch no ground.
inline double rigid_motion_error(const Element& element, const State& state) {
    const Pose motion{exp<double>(Vec3(0.9, -1.3, 0.7)), Vec3(3, -2, 5)};
    const double before = element.energy(state), after = element.energy(rigidly_moved(state, motion));
    return std::abs(after - before) / std::abs(before);
}

inline void check_derivatives(const Element& element, const State& state) {
    EXPECT_LT(gradient_error(element, state), complex_step_accuracy);
    EXPECT_LT(hessian_error(element, state), central_difference_accuracy);
    EXPECT_LT(asymmetry(element, state), 1e-14);  // rounding of one product
}

/// Reproducible random numbers in (−1, 1).
class Random {
public:
    explicit Random(unsigned seed) : engine_(seed) {}
    double number() { return std::uniform_real_distribution<double>(-1, 1)(engine_); }
    Vec3 vector(double size) { return size * Vec3(number(), number(), number()); }
    Pose pose(double turn, double place) { return {exp<double>(vector(turn)), vector(place)}; }

private:
    std::mt19937 engine_;
};

}  // namespace limbwright::testing
