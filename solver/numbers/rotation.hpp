#pragma once

#include <array>
#include <cmath>
#include <numbers>

#include "solver/numbers/algebra.hpp"
#include "solver/numbers/scalar.hpp"

namespace limbwright::solver {

/// A rotation as unit quaternion (w, v) = (cos φ/2, n sin φ/2).
template <class T>
struct RotationOf {
    T w = T(1);
    Vector3<T> v = Vector3<T>::Zero();

    [[nodiscard]] RotationOf inverse() const { return {w, -v}; }

    [[nodiscard]] Vector3<T> operator*(const Vector3<T>& x) const {
        const Vector3<T> twice = T(2) * cross<T>(v, x);
        return x + w * twice + cross<T>(v, twice);
    }

    [[nodiscard]] RotationOf operator*(const RotationOf& o) const {
        return {w * o.w - dot(v, o.v), w * o.v + o.w * v + cross<T>(v, o.v)};
    }

    [[nodiscard]] Matrix3<T> matrix() const {
        const Matrix3<T> V = skew<T>(v);
        return Matrix3<T>::Identity() + T(2) * w * V + T(2) * V * V;
    }

    [[nodiscard]] RotationOf normalized() const {
        using std::sqrt;
        const T scale = T(1) / sqrt(w * w + dot(v, v));
        return {w * scale, v * scale};
    }
};
using Rotation = RotationOf<double>;

/// exp of the rotation vector θ [rad].
template <class T>
RotationOf<T> exp(const Vector3<T>& theta) {
    using std::cos, std::sin, std::sqrt;
    const T s = dot(theta, theta);
    // cos(√s/2) and sin(√s/2)/√s; as series in s, five terms reach 3e-20 here.
    const auto near_zero = [&] {
        const T q = s * T(0.25);
        return std::array<T, 2>{
            T(1) + q * (T(-1. / 2) + q * (T(1. / 24) + q * (T(-1. / 720) + q * T(1. / 40320)))),
            T(0.5) *
                (T(1) + q * (T(-1. / 6) + q * (T(1. / 120) + q * (T(-1. / 5040) + q * T(1. / 362880)))))};
    };
    const auto farther = [&] {
        const T angle = sqrt(s);
        return std::array<T, 2>{cos(T(0.5) * angle), sin(T(0.5) * angle) / angle};
    };
    const std::array<T, 2> half = either(real_part(s) < 1e-2, near_zero, farther);
    return {half[0], half[1] * theta};
}

/// The rotation vector of q, |log q| ≤ π [rad]. Good to the last digit near zero.
template <class T>
Vector3<T> log(const RotationOf<T>& q) {
    using std::atan, std::sqrt;
    const T x = dot(q.v, q.v);
    const T sign = T(choose(real_part(q.w) < 0, -1, 1));
    // 2 asin(√x)/√x; terms Π (2k−1)²/(2k(2k+1)) x^k: twelve reach 1e-18 at x = 0.04.
    const auto near_zero = [&] {
        T sum = T(1);
        for (int k = 12; k >= 1; --k) {
            const double ratio = (2. * k - 1) * (2. * k - 1) / (2. * k * (2. * k + 1));
            sum = T(1) + T(ratio) * x * sum;
        }
        return std::array<T, 1>{T(2) * sum};
    };
    const auto farther = [&] {
        const T sine = sqrt(x);
        // Half-angle form: good up to π.
        return std::array<T, 1>{T(4) * atan(sine / (T(1) + sign * q.w)) / sine};
    };
    const std::array<T, 1> factor = either(real_part(x) < 0.04, near_zero, farther);
    return (sign * factor[0]) * q.v;
}

/// The inverse of S(φ) = ∫ exp(u φ) du over u = −1/2 … 1/2 is S⁻¹ x = a x + b φ (φ·x), where with s = φ·φ
///
///     a(s) = (√s/2) / sin(√s/2),   b(s) = (1 − a)/s.
///
/// S⁻¹ turns the rotation of one end of a segment against the other, seen in the middle, into the change of
/// its rotation vector. Here a and b with two derivatives by s.
template <class T>
struct MidMap {
    T a, a1, a2, b, b1, b2;
};

namespace detail {
/// Coefficients of a(s) = Σ c_k s^k, c_k = 2 η(2k)/(4π²)^k, η(2k) = Σ (−1)^(n−1) n^(−2k)  (y/sin y, partial
/// fractions).
inline const std::array<double, 14>& mid_map_series() {
    static const std::array<double, 14> series = [] {
        std::array<double, 14> c{};
        c[0] = 1;
        c[1] = 1. / 24;
        c[2] = 7. / 5760;
        for (int k = 3; k < 14; ++k) {
            double eta = 0;
            for (int n = 400; n >= 1; --n) eta += (n % 2 ? 1. : -1.) * std::pow(n, -2. * k);  // rest < 400⁻⁶
            c[static_cast<std::size_t>(k)] = 2 * eta * std::pow(4 * std::numbers::pi * std::numbers::pi, -k);
        }
        return c;
    }();
    return series;
}
}  // namespace detail

template <class T>
MidMap<T> mid_map(const T& s) {
    using std::cos, std::sin, std::sqrt;
    using All = std::array<T, 6>;
    // (2/4π²)^14 = 5e-19: the series carries all digits far past where the closed form starts to cancel.
    const auto near_zero = [&] {
        const std::array<double, 14>& c = detail::mid_map_series();
        T a1(0), a2(0), b(0), b1(0), b2(0);
        for (int k = 13; k >= 1; --k) {
            const double ck = c[static_cast<std::size_t>(k)];
            if (k >= 3) b2 = b2 * s - T((k - 1.) * (k - 2.) * ck);
            if (k >= 2) b1 = b1 * s - T((k - 1.) * ck);
            b = b * s - T(ck);
            if (k >= 2) a2 = a2 * s + T(k * (k - 1.) * ck);
            a1 = a1 * s + T(k * ck);
        }
        return All{T(1) - s * b, a1, a2, b, b1, b2};
    };
    const auto farther = [&] {
        const T y = T(0.5) * sqrt(s), sine = sin(y), cosine = cos(y);
        const T a = y / sine;
        const T ay = (T(1) - a * cosine) / sine;
        const T ayy = (y * sine * sine - T(2) * cosine * (sine - y * cosine)) / (sine * sine * sine);
        const T a1 = ay / (T(8) * y);
        const T a2 = (ayy - ay / y) / (T(64) * y * y);
        const T b = (T(1) - a) / s;
        const T b1 = (-a1 - b) / s;
        return All{a, a1, a2, b, b1, (-a2 - T(2) * b1) / s};
    };
    const All m = either(real_part(s) < 2, near_zero, farther);
    return {m[0], m[1], m[2], m[3], m[4], m[5]};
}

}  // namespace limbwright::solver
