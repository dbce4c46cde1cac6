#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>

#include "solver/numbers/scalar.hpp"

namespace limbwright::solver {

/// A pack of eight numbers, one lane per problem: eight sets of data on one topology. Arithmetic goes lane by
/// lane, so that what a lane holds never depends on its neighbours. The compiler makes one, two or four
/// registers of it, as the processor has them.
class Lanes {
public:
    static constexpr int width = 8;
    using Pack = double __attribute__((vector_size(8 * width)));
    using Bits = long long __attribute__((vector_size(8 * width)));

    /// A condition for each lane.
    struct Mask {
        Bits bits;
        [[nodiscard]] bool all() const {
            bool every = true;
            for (int i = 0; i < width; ++i) every &= bits[i] != 0;
            return every;
        }
        [[nodiscard]] bool none() const {
            bool any = false;
            for (int i = 0; i < width; ++i) any |= bits[i] != 0;
            return !any;
        }
    };

    Lanes() = default;  ///< not set
    Lanes(double x) : pack_(x - Pack{}) {}
    Lanes(int x) : Lanes(static_cast<double>(x)) {}
    explicit Lanes(Pack pack) : pack_(pack) {}

    [[nodiscard]] double operator[](int lane) const { return pack_[lane]; }
    void set(int lane, double value) { pack_[lane] = value; }
    [[nodiscard]] Pack pack() const { return pack_; }

    Lanes& operator+=(const Lanes& o) { return *this = Lanes(pack_ + o.pack_); }
    Lanes& operator-=(const Lanes& o) { return *this = Lanes(pack_ - o.pack_); }
    Lanes& operator*=(const Lanes& o) { return *this = Lanes(pack_ * o.pack_); }
    friend Lanes operator-(const Lanes& a) { return Lanes(-a.pack_); }
    friend Lanes operator+(const Lanes& a, const Lanes& b) { return Lanes(a.pack_ + b.pack_); }
    friend Lanes operator-(const Lanes& a, const Lanes& b) { return Lanes(a.pack_ - b.pack_); }
    friend Lanes operator*(const Lanes& a, const Lanes& b) { return Lanes(a.pack_ * b.pack_); }
    friend Lanes operator/(const Lanes& a, const Lanes& b) { return Lanes(a.pack_ / b.pack_); }
    friend Mask operator<(const Lanes& a, const Lanes& b) { return {a.pack_ < b.pack_}; }
    friend Mask operator>(const Lanes& a, const Lanes& b) { return {a.pack_ > b.pack_}; }

private:
    Pack pack_;
};

inline Lanes real_part(const Lanes& x) {
    return x;
}

inline Lanes choose(const Lanes::Mask& condition, const Lanes& yes, const Lanes& no) {
    return Lanes(condition.bits ? yes.pack() : no.pack());
}

/// Calls both functions only where the lanes differ.
template <class Yes, class No>
auto either(const Lanes::Mask& condition, const Yes& yes, const No& no) {
    if (condition.all()) return yes();
    if (condition.none()) return no();
    auto mixed = yes();
    const auto other = no();
    for (std::size_t i = 0; i < mixed.size(); ++i) mixed[i] = choose(condition, mixed[i], other[i]);
    return mixed;
}

template <class F>
Lanes per_lane(const F& f, const Lanes& a, const Lanes& b, const Lanes& c) {
    Lanes r;
    for (int i = 0; i < Lanes::width; ++i) r.set(i, f(a[i], b[i], c[i]));
    return r;
}

namespace detail {
template <class F>
Lanes each(const F& f, const Lanes& x) {
    Lanes r;
    for (int i = 0; i < Lanes::width; ++i) r.set(i, f(x[i]));
    return r;
}
}  // namespace detail

inline Lanes sqrt(const Lanes& x) {
    return detail::each([](double a) { return std::sqrt(a); }, x);
}
inline Lanes sin(const Lanes& x) {
    return detail::each([](double a) { return std::sin(a); }, x);
}
inline Lanes cos(const Lanes& x) {
    return detail::each([](double a) { return std::cos(a); }, x);
}
inline Lanes atan(const Lanes& x) {
    return detail::each([](double a) { return std::atan(a); }, x);
}
inline Lanes abs(const Lanes& x) {
    return choose(x < Lanes(0), -x, x);
}

}  // namespace limbwright::solver

namespace Eigen {
template <>
struct NumTraits<limbwright::solver::Lanes> : GenericNumTraits<limbwright::solver::Lanes> {
    enum {
        IsComplex = 0,
        IsInteger = 0,
        IsSigned = 1,
        RequireInitialization = 0,
        ReadCost = 1,
        AddCost = 1,
        MulCost = 1
    };
};
}  // namespace Eigen
