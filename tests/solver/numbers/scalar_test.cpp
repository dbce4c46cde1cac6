#include "solver/numbers/scalar.hpp"

#include <gtest/gtest.h>

namespace limbwright::solver::scalar_test {
namespace {

TEST(Scalar, RealPartDropsTheImaginaryOne) {
    EXPECT_EQ(real_part(-2.5), -2.5);
    EXPECT_EQ(real_part(std::complex<double>(-2.5, 7)), -2.5);
}

}  // namespace
}  // namespace limbwright::solver::scalar_test
