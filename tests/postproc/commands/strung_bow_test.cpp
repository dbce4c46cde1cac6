#include "postproc/commands/strung_bow.hpp"

#include <gtest/gtest.h>

#include "tests/support/small_bow.hpp"

namespace limbwright::postproc::strung_bow_test {
namespace {

TEST(StrungBow, IsStrungAsTheBowSays) {
    const models::Bow bow = testing::small_bow();
    const auto strung = strung_or_told(bow);
    ASSERT_TRUE(strung);
    // What stringing leaves of axle-to-axle, see `string_up`.
    EXPECT_NEAR(axle_to_axle(strung->bow, strung->brace.state), bow.brace.axle_to_axle, 1e-6);
}

TEST(StrungBow, SaysWhyItCannotBe) {
    models::Bow bow = testing::small_bow();
    bow.brace.axle_to_axle *= 1.5;  // farther apart than the unloaded limbs hold the axles
    ::testing::internal::CaptureStderr();
    EXPECT_FALSE(strung_or_told(bow));
    const std::string told = ::testing::internal::GetCapturedStderr();
    EXPECT_NE(told.find("could not be strung: "), std::string::npos) << told;
}

}  // namespace
}  // namespace limbwright::postproc::strung_bow_test
