#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "models/bow/spacers.hpp"
#include "tests/support/strung.hpp"

/// A left-handed bow is the mirror image through the bow's plane, in all that is measured on it.
namespace limbwright::models::whole_bow_mirror_test {
namespace {

/// Every step of the solver has its image, rounding apart. What is left is rounding times the condition of a
/// bow: 1e-16 times the ratio of its stiffest way (the axle along itself, 1e6 N/mm) to its softest (1 N/mm).
constexpr double mirror_accuracy = 1e-9;

/// What turns its sign in the mirror: sideways, or a turn about X or Z.
bool lateral(const std::string& name) {
    if (name.starts_with("forgiveness")) return false;  // per torque, which turns its sign too
    for (const char* part : {"lateral", "riser twist", "riser bend", "torque, yaw", "torque, roll",
                             "cam lean", "cam toe", "side force", "straightedge gap"})
        if (name.find(part) != std::string::npos) return true;
    return false;
}

/// What a measure is called on the image: left and right change places.
std::string image(std::string name) {
    const std::size_t left = name.find("left"), right = name.find("right");
    if (left != std::string::npos) return name.replace(left, 4, "right");
    if (right != std::string::npos) return name.replace(right, 5, "left");
    return name;
}

/// How a state was found is no property of it; an energy error of 1e-9 J is rounding.
bool of_the_numerics(const std::string& name) {
    return name == "residual" || name == "iterations" || name == "energy error";
}

/// Uneven in all that a layout can change.
Bow crooked(Bow bow) {
    bow.layout.pairing = {51, 48, 49, 52};
    bow.layout.spacers_top = {{1.5, 1.5}, {2.5, 2.5}};
    bow.layout.spacers_bottom = {{2.5, 2.5}, {1.5, 1.5}};
    if (tip_gap(bow) - bow.cam_top.hub - 8 < 0)
        bow.layout.spacers_top = bow.layout.spacers_bottom = {{1}, {3}};
    bow.layout.guide_lateral = 2;
    bow.layout.guide_angle = 0.1;
    bow.layout.bolt_top = 1;
    bow.layout.twist_yoke_left = {2, 1};
    bow.layout.hand_yaw_torque = 700;
    return bow;
}

class MirrorOf : public ::testing::TestWithParam<const char*> {};
INSTANTIATE_TEST_SUITE_P(Demo, MirrorOf, ::testing::ValuesIn(testing::demo_bows),
                         [](const auto& name) { return std::string(name.param); });

TEST_P(MirrorOf, ACrookedBowMeasuresAsItsImage) {
    const Bow bow = crooked(testing::demo_bow(GetParam()));
    const testing::Drawn one = testing::drawn(bow, testing::in_states(7));
    const testing::Drawn other = testing::drawn(mirrored(bow), testing::in_states(7));
    const auto measures = state_measures(one.bow()), images = state_measures(other.bow());
    const auto found = values(measures, one.bow(), one.draw),
               reflected = values(images, other.bow(), other.draw);
    for (std::size_t k = 0; k < measures.size(); ++k) {
        if (of_the_numerics(measures[k].name)) continue;
        const auto twin = std::find_if(images.begin(), images.end(),
                                       [&](const Measure& m) { return m.name == image(measures[k].name); });
        ASSERT_NE(twin, images.end()) << measures[k].name;
        const std::vector<double>& there = reflected[static_cast<std::size_t>(twin - images.begin())];
        ASSERT_EQ(found[k].size(), there.size());
        const double sense = lateral(measures[k].name) ? -1 : 1;
        // A derivative is a difference over a short step, which loses a digit.
        const double digit = measures[k].name.starts_with("forgiveness") ? 10 : 1;
        double largest = 1;
        for (const double v : found[k]) largest = std::max(largest, std::abs(v));
        for (std::size_t i = 0; i < there.size(); ++i) {
            if (std::isnan(found[k][i]) && std::isnan(there[i])) continue;  // a stop that there is not
            EXPECT_NEAR(found[k][i], sense * there[i], digit * mirror_accuracy * largest)
                << measures[k].name << ", state " << i;
        }
    }
    for (const Measure& m : draw_measures()) {
        const double here = m.value({one.bow(), one.draw}), there = m.value({other.bow(), other.draw});
        EXPECT_NEAR(here, (lateral(m.name) ? -1 : 1) * there, 10 * mirror_accuracy * (1 + std::abs(here)))
            << m.name;  // some are differences over short steps
    }
}

TEST(Mirror, TwiceIsTheBowItself) {
    const Bow bow = crooked(testing::small_uneven_bow());
    const testing::Drawn one = testing::drawn(bow), again = testing::drawn(mirrored(mirrored(bow)));
    for (const char* name : {"cam lean, top", "draw force", "guide side force", "strain, top left limb"})
        EXPECT_EQ(one.full(name), again.full(name)) << name;
}

TEST(Mirror, OfACrookedBowIsAnotherBow) {
    const testing::Drawn one = testing::drawn(crooked(testing::small_uneven_bow()));
    EXPECT_GT(std::abs(one.full("cam lean, top")), 0.1);
    EXPECT_GT(std::abs(one.full("cam lean, top") - one.full("cam lean, bottom")), 0.1);
}

}  // namespace
}  // namespace limbwright::models::whole_bow_mirror_test
