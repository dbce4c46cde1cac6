#pragma once

#include <Eigen/Core>
#include <cmath>
#include <concepts>

#include "solver/numbers/scalar.hpp"

namespace limbwright::solver {

/// A number with its derivatives in N directions: forward differentiation, exact to rounding.
///
/// Kernels write their gradient by hand; its Hessian is that gradient evaluated with duals.
template <class T, int N>
struct Dual {
    using Slope = Eigen::Array<T, N, 1>;
    T value;
    Slope slope;

    Dual() = default;
    Dual(const T& v) : value(v), slope(Slope::Zero()) {}
    /// An int only: a double shall become a T, where T is a pack of lanes.
    template <std::same_as<int> I>
    Dual(I v) : value(T(v)), slope(Slope::Zero()) {}
    Dual(const T& v, const Slope& s) : value(v), slope(s) {}

    Dual& operator+=(const Dual& o) { return *this = *this + o; }
    Dual& operator-=(const Dual& o) { return *this = *this - o; }
    Dual& operator*=(const Dual& o) { return *this = *this * o; }

    friend Dual operator-(const Dual& a) { return {-a.value, -a.slope}; }
    friend Dual operator+(const Dual& a, const Dual& b) { return {a.value + b.value, a.slope + b.slope}; }
    friend Dual operator-(const Dual& a, const Dual& b) { return {a.value - b.value, a.slope - b.slope}; }
    friend Dual operator*(const Dual& a, const Dual& b) {
        return {a.value * b.value, a.slope * b.value + b.slope * a.value};
    }
    friend Dual operator/(const Dual& a, const Dual& b) {
        const T inverse = T(1) / b.value;
        const T quotient = a.value * inverse;
        return {quotient, (a.slope - b.slope * quotient) * inverse};
    }
    friend Dual operator+(const Dual& a, const T& b) { return {a.value + b, a.slope}; }
    friend Dual operator+(const T& a, const Dual& b) { return {a + b.value, b.slope}; }
    friend Dual operator-(const Dual& a, const T& b) { return {a.value - b, a.slope}; }
    friend Dual operator-(const T& a, const Dual& b) { return {a - b.value, -b.slope}; }
    friend Dual operator*(const Dual& a, const T& b) { return {a.value * b, a.slope * b}; }
    friend Dual operator*(const T& a, const Dual& b) { return b * a; }
    friend Dual operator/(const Dual& a, const T& b) { return a * (T(1) / b); }

    friend Dual sqrt(const Dual& a) {
        using std::sqrt;
        const T root = sqrt(a.value);
        return {root, a.slope * (T(0.5) / root)};
    }
    friend Dual sin(const Dual& a) {
        using std::cos, std::sin;
        return {sin(a.value), a.slope * cos(a.value)};
    }
    friend Dual cos(const Dual& a) {
        using std::cos, std::sin;
        return {cos(a.value), a.slope * (-sin(a.value))};
    }
};

template <class T, int N>
RealOf<T> real_part(const Dual<T, N>& x) {
    return real_part(x.value);
}

}  // namespace limbwright::solver

namespace Eigen {
template <class T, int N>
struct NumTraits<limbwright::solver::Dual<T, N>> : GenericNumTraits<limbwright::solver::Dual<T, N>> {
    enum { IsComplex = 0, RequireInitialization = 1, ReadCost = N, AddCost = N, MulCost = 3 * N };
};
}  // namespace Eigen
