#pragma once

#include <cmath>

namespace limbwright::testing {

/// p of an error ∝ hᵖ, from the errors at one number of elements and at twice as many.
inline double observed_order(double coarse_error, double fine_error) {
    return std::log2(std::abs(coarse_error / fine_error));
}

/// What results of this order lead to: their leading error is gone.
inline double extrapolated(double coarse, double fine, double order = 2) {
    return fine + (fine - coarse) / (std::pow(2, order) - 1);
}

}  // namespace limbwright::testing
