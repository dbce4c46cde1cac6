#pragma once

#include <complex>

/// What a kernel may ask of its scalar besides arithmetic. A kernel branches only on the real part, so that
/// derivative checks with complex numbers follow the same branch.
namespace limbwright::solver {

inline double real_part(double x) {
    return x;
}
inline double real_part(const std::complex<double>& x) {
    return x.real();
}

}  // namespace limbwright::solver
