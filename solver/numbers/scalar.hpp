#pragma once

#include <complex>

/// What a kernel may ask of its scalar besides arithmetic. A kernel decides only by the real part, so that
/// derivative checks with complex numbers follow the same way; and only through `either`, `choose` and
/// `per_lane`, so that the lanes of a pack (`lanes.hpp`) may decide differently.
namespace limbwright::solver {

inline double real_part(double x) {
    return x;
}
inline double real_part(const std::complex<double>& x) {
    return x.real();
}

/// The real part of a scalar: double, or a pack of lanes.
template <class T>
using RealOf = decltype(real_part(T()));

/// Where the condition holds the one, elsewhere the other.
inline double choose(bool condition, double yes, double no) {
    return condition ? yes : no;
}

/// The same for what two functions return, an array of scalars; a plain number calls only one of them.
template <class Yes, class No>
auto either(bool condition, const Yes& yes, const No& no) {
    return condition ? yes() : no();
}

/// A function of plain numbers, for every lane by itself.
template <class F>
double per_lane(const F& f, double a, double b, double c) {
    return f(a, b, c);
}

}  // namespace limbwright::solver
