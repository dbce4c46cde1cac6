#pragma once

#include <gtest/gtest.h>

namespace limbwright::testing {

/// A value from outside, how near it must be met, and where it comes from.
struct Reference {
    double value, tolerance;
    const char* source;
};

inline void expect_met(double found, const Reference& reference) {
    EXPECT_NEAR(found, reference.value, reference.tolerance) << reference.source;
}

}  // namespace limbwright::testing
