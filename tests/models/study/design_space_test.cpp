#include "models/study/design_space.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <stdexcept>

#include "models/bow/spacers.hpp"
#include "models/study/rework_effort.hpp"
#include "tests/support/small_study.hpp"

namespace limbwright::models::design_space_test {
namespace {

/// What settings look at: a crossed bow with a guide, 8 mm to fill at either cam.
Bow bow() {
    Bow bow;
    bow.gap = 28;
    bow.play = 0.3;
    bow.cam_top.hub = bow.cam_bottom.hub = 20;
    bow.guide.kind = GuideKind::rod;
    bow.layout.pairing = {51, 49, 50, 50};
    bow.layout.spacers_top = bow.layout.spacers_bottom = {{1.5, 2.5}, {1.5, 2.5}};
    bow.layout.guide_angle = 0.02;
    return bow;
}

Study study() {
    Study study;
    study.limbs = {51, 49, 50, 50};
    study.spacers = {{1.5, 4}, {2.5, 4}};
    study.ranges = {{"guide, lateral", {-2, 2, 1}}};
    return study;
}

std::vector<double> numbers_of(const Layout& layout) {
    const Pairing& p = layout.pairing;
    return {p.top_left,
            p.top_right,
            p.bottom_left,
            p.bottom_right,
            cam_offset(layout.spacers_top),
            cam_offset(layout.spacers_bottom),
            layout.guide_lateral};
}

std::vector<double> point_of(const Product& product, std::int64_t number) {
    std::vector<double> values(product.varied().size());
    product.point(number, values.data());
    return values;
}

TEST(Steps, RunFromTheFirstToTheLastThatDoesNotPassTheEnd) {
    EXPECT_EQ(values_of({-2, 2, 1}), (std::vector<double>{-2, -1, 0, 1, 2}));
    EXPECT_EQ(values_of({0, 1, 0.4}).size(), 3u);
    EXPECT_EQ(values_of({3, 3, 1}), (std::vector<double>{3}));
}

TEST(Steps, RoundingLosesNoValueAndZeroIsZero) {
    const std::vector<double> values = values_of({-0.3, 0.3, 0.1});
    ASSERT_EQ(values.size(), 7u);
    EXPECT_EQ(values[3], 0);
}

TEST(Product, ItsSizeIsThatOfItsFactorsMultiplied) {
    const Product product(bow(), study());
    EXPECT_EQ(product.pairings().size(), 12u);
    EXPECT_EQ(product.arrangements(), 24);
    EXPECT_EQ(product.spacers().size(), 81u);
    EXPECT_EQ(product.ranges(), (std::vector<std::vector<double>>{{-2, -1, 0, 1, 2}}));
    EXPECT_EQ(product.size(), 12 * 81 * 5);
}

TEST(Product, EveryLayoutIsThereOnce) {
    const Product product(bow(), study());
    std::set<std::vector<double>> seen;
    for (std::int64_t i = 0; i < product.size(); ++i) seen.insert(numbers_of(product.layout(i)));
    EXPECT_EQ(seen.size(), product.size());
}

TEST(Product, TodaysLayoutIsAmongThem) {
    const Product product(bow(), study());
    int found = 0;
    for (std::int64_t i = 0; i < product.size(); ++i)
        found += numbers_of(product.layout(i)) == numbers_of(bow().layout);
    EXPECT_EQ(found, 1);
}

TEST(Product, TheLastRangeRunsFastestAndPairingsSlowest) {
    Study s = study();
    s.ranges.push_back({"limb bolt, top", {0, 1, 1}});
    const Product product(bow(), s);
    EXPECT_EQ(product.layout(0).bolt_top, 0);
    EXPECT_EQ(product.layout(1).bolt_top, 1);
    EXPECT_EQ(product.layout(1).guide_lateral, -2);
    EXPECT_EQ(product.layout(2).guide_lateral, -1);
    EXPECT_EQ(cam_offset(product.layout(9).spacers_bottom), cam_offset(product.layout(0).spacers_bottom));
    EXPECT_GT(cam_offset(product.layout(10).spacers_bottom), cam_offset(product.layout(0).spacers_bottom));
    EXPECT_EQ(product.layout(81 * 10 - 1).pairing.bottom_right, product.layout(0).pairing.bottom_right);
    EXPECT_NE(product.layout(81 * 10).pairing.bottom_right, product.layout(0).pairing.bottom_right);
}

TEST(Product, VariedSettingsStandInAFixedOrder) {
    const Product product(bow(), study());
    std::vector<std::string> names;
    for (const Setting& setting : product.varied()) names.push_back(setting.name);
    EXPECT_EQ(names, (std::vector<std::string>{"limb number, top left", "limb number, top right",
                                               "limb number, bottom left", "limb number, bottom right",
                                               "spacers, top", "spacers, bottom", "guide, lateral"}));
}

TEST(Product, APointHoldsTheVariedSettingsOfItsLayout) {
    const Product product(bow(), study());
    for (std::int64_t i = 0; i < product.size(); i += 7) {
        const Layout layout = product.layout(i);
        std::vector<double> expected;
        for (const Setting& setting : product.varied()) expected.push_back(setting.get(layout));
        EXPECT_EQ(point_of(product, i), expected);
    }
}

TEST(Product, SettingsOfOneValueAreNotVaried) {
    Study s = study();
    s.limbs = {50, 50, 50, 50};
    s.ranges = {{"guide, lateral", {1, 1, 1}}, {"guide, angle", {0, 0.1, 0.05}}};
    const Product product(bow(), s);
    std::vector<std::string> names;
    for (const Setting& setting : product.varied()) names.push_back(setting.name);
    EXPECT_EQ(names, (std::vector<std::string>{"spacers, top", "spacers, bottom", "guide, angle"}));
    EXPECT_EQ(product.layout(0).guide_lateral, 1);
}

TEST(Product, WhatTheStudyLeavesOutStaysAsToday) {
    Study s;
    s.ranges = {{"guide, lateral", {0, 1, 1}}};
    const Product product(bow(), s);
    EXPECT_EQ(product.size(), 2);
    EXPECT_EQ(product.arrangements(), 1);
    const Layout layout = product.layout(1);
    EXPECT_EQ(numbers_of(layout), (std::vector<double>{51, 49, 50, 50, 0, 0, 1}));
    EXPECT_EQ(layout.guide_angle, 0.02);
}

TEST(Product, AStockOfTwelveGivesMillionsOfLayouts) {
    Study s = study();
    s.limbs = {44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55};
    const Product product(bow(), s);
    EXPECT_EQ(product.size(), 4'811'400);
    EXPECT_EQ(product.layout(product.size() - 1).pairing.top_left, 55);
}

TEST(Product, ASettingThatTheBowDoesNotHaveIsRefused) {
    Study s;
    s.ranges = {{"no such setting", {0, 1, 1}}};
    EXPECT_THROW(Product(bow(), s), std::invalid_argument);
}

TEST(Product, ALayoutsNumberIsTheOneThatItWasMadeOf) {
    const Bow crossed = testing::crossed_bow();
    Study study = testing::small_study();
    study.spacers = {{1.5, 4}, {2.5, 4}};
    study.ranges.push_back({"limb bolt, top", {0, 0.5, 0.25}});
    const Product product(crossed, study);
    const std::int64_t step = 97;  // of thousands of layouts some of every pairing, spacers and range
    for (std::int64_t number = 0; number < product.size(); number += step)
        EXPECT_EQ(product.number_of(product.layout(number)), number);
    EXPECT_EQ(rework(crossed.layout, product.layout(product.number_of(crossed.layout).value())).kind,
              ReworkKind::none);
}

TEST(Product, ALayoutThatIsNotOfItHasNoNumber) {
    const Bow crossed = testing::crossed_bow();
    Study study = testing::small_study();
    study.ranges = {{"guide, lateral", {5, 7, 1}}};
    EXPECT_EQ(Product(crossed, study).number_of(crossed.layout), std::nullopt);
    study = testing::small_study();
    study.limbs = {48, 48, 48, 48};
    EXPECT_EQ(Product(crossed, study).number_of(crossed.layout), std::nullopt);
}

}  // namespace
}  // namespace limbwright::models::design_space_test
