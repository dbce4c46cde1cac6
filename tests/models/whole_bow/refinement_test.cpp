#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/support/observed_order.hpp"
#include "tests/support/strung.hpp"

/// Finer limbs lead to one answer, at the order of the beam.
namespace limbwright::models::whole_bow_refinement_test {
namespace {

struct Answer {
    double force;  ///< near the peak [N]
    double lean;   ///< of the top cam, full draw [deg]
};

const std::array<Answer, 4>& answers() {
    static const std::array<Answer, 4> all = [] {
        std::array<Answer, 4> found{};
        std::size_t i = 0;
        for (const int elements : {12, 24, 48, 96}) {  // shorter than the zones near ends that cannot warp
            Bow bow = testing::small_uneven_bow();
            bow.limb.elements = elements;
            const StrungBow strung = testing::strung(bow);
            const testing::Drawn peak = testing::drawn(strung, testing::draw_to(430, 5));
            found[i++] = {peak.draw.states.back().force,
                          testing::drawn(strung, testing::draw_to(600, 9)).full("cam lean, top")};
        }
        return found;
    }();
    return all;
}

TEST(Refinement, OfTheLimbsConvergesWithSecondOrder) {
    const auto& a = answers();
    // Successive differences of an error ∝ h² fall by four.
    EXPECT_GT(testing::observed_order(a[1].force - a[0].force, a[2].force - a[1].force), 1.9);
    EXPECT_GT(testing::observed_order(a[2].force - a[1].force, a[3].force - a[2].force), 1.9);
    EXPECT_GT(testing::observed_order(a[1].lean - a[0].lean, a[2].lean - a[1].lean), 1.9);
    EXPECT_GT(testing::observed_order(a[2].lean - a[1].lean, a[3].lean - a[2].lean), 1.9);
}

/// Against the value to which 24 and 48 elements lead: what a bow file's 24 elements are off by.
TEST(Refinement, TwentyFourElementsAreGoodEnough) {
    const auto& a = answers();
    EXPECT_NEAR(a[1].force / testing::extrapolated(a[1].force, a[2].force), 1, 1e-4);
    EXPECT_NEAR(a[1].lean, testing::extrapolated(a[1].lean, a[2].lean), 2e-3);  // deg, of about five
}

}  // namespace
}  // namespace limbwright::models::whole_bow_refinement_test
