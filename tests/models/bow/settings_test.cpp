#include "models/bow/settings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "models/bow/spacers.hpp"
#include "models/parts/assembled_bow.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::models::settings_test {
namespace {

std::vector<std::string> names_of(const Bow& bow) {
    std::vector<std::string> names;
    for (const Setting& s : settings_of(bow, 0.5)) names.push_back(s.name);
    return names;
}

long count_of(const Bow& bow, const std::string& words) {
    const std::vector<std::string> names = names_of(bow);
    return std::count_if(names.begin(), names.end(),
                         [&](const std::string& name) { return name.find(words) != std::string::npos; });
}

TEST(Settings, HaveNamesOfTheirOwnStepsAndDefinitions) {
    for (const char* name : testing::demo_bows) {
        std::set<std::string> names;
        for (const Setting& s : settings_of(testing::demo_bow(name), 0.5)) {
            EXPECT_TRUE(names.insert(s.name).second) << s.name;
            EXPECT_GT(s.step, 0) << s.name;
            EXPECT_FALSE(s.step_name.empty()) << s.name;
            EXPECT_FALSE(s.definition.empty()) << s.name;
        }
    }
}

TEST(Settings, GiveBackWhatWasSetAndLeaveTheOthersAlone) {
    for (const char* name : testing::demo_bows) {
        const Bow bow = testing::demo_bow(name);
        const std::vector<Setting> settings = settings_of(bow, 0.5);
        for (const Setting& changed : settings) {
            Layout layout = bow.layout;
            changed.set(layout, changed.get(layout) + 0.25);
            for (const Setting& s : settings)
                EXPECT_NEAR(s.get(layout) - s.get(bow.layout), s.name == changed.name ? 0.25 : 0, 1e-12)
                    << changed.name << ", " << s.name;
        }
    }
}

TEST(Settings, OfSpacersMoveTheCamAndFillTheGapAsBefore) {
    const Bow bow = testing::small_uneven_bow();
    for (const Setting& s : settings_of(bow, 0.5)) {
        if (s.name != "spacers, top") continue;
        Layout layout = bow.layout;
        s.set(layout, -1.75);
        EXPECT_DOUBLE_EQ(cam_offset(layout.spacers_top), -1.75);
        EXPECT_DOUBLE_EQ(total(layout.spacers_top), total(bow.layout.spacers_top));
    }
}

TEST(Settings, AStepOfSpacersIsOneSpacerFromTheLeftStackToTheRight) {
    const SpacerStacks before{{1.5, 0.5}, {2}}, after{{1.5}, {2, 0.5}};
    Bow bow = testing::small_bow();
    const std::vector<Setting> settings = settings_of(bow, 0.5);
    const auto spacers = std::find_if(settings.begin(), settings.end(),
                                      [](const Setting& s) { return s.name == "spacers, bottom"; });
    bow.layout.spacers_bottom = before;
    const double start = spacers->get(bow.layout);
    bow.layout.spacers_bottom = after;
    EXPECT_DOUBLE_EQ(spacers->get(bow.layout) - start, spacers->step);
}

TEST(Settings, AreThoseThatTheBowHas) {
    Bow bow = testing::small_bow();
    EXPECT_EQ(count_of(bow, "yoke"), 0);
    EXPECT_EQ(count_of(bow, "guide"), 2);
    EXPECT_EQ(count_of(bow, "limb number"), 4);
    bow.guide.kind = GuideKind::none;
    EXPECT_EQ(count_of(bow, "guide"), 0);
    EXPECT_EQ(count_of(testing::demo_bow("yoked"), "yoke"), 4);
    EXPECT_EQ(count_of(testing::demo_bow("mixed"), "top yoke"), 2);
    EXPECT_EQ(count_of(testing::demo_bow("mixed"), "bottom yoke"), 0);
    EXPECT_EQ(count_of(testing::demo_bow("single_cam"), "yoke"), 2);
    EXPECT_EQ(count_of(testing::demo_bow("single_cam"), "take-up cable"), 1);
}

TEST(Settings, OfASolidLimbAreOneNumberForBothSides) {
    Bow bow = testing::small_bow();
    bow.limb.kind = LimbKind::solid;
    EXPECT_EQ(count_of(bow, "limb number"), 2);
    Layout layout = bow.layout;
    const Setting bottom = settings_of(bow, 0.5)[1];
    EXPECT_EQ(bottom.name, "limb number, bottom");
    bottom.set(layout, 53);
    EXPECT_EQ(layout.pairing.bottom_left, 53);
    EXPECT_EQ(layout.pairing.bottom_right, 53);
    EXPECT_EQ(layout.pairing.top_left, bow.layout.pairing.top_left);
}

TEST(Settings, OfAYokeLegShortenTheLegAtThatEndOfThatAxle) {
    for (const char* name : testing::demo_bows) {
        const Bow bow = testing::demo_bow(name);
        const AssembledBow today = assemble(bow);
        for (const Setting& s : settings_of(bow, 0.5)) {
            if (s.name.find("yoke") == std::string::npos) continue;
            Layout layout = bow.layout;
            s.set(layout, s.get(layout) + 1);
            const AssembledBow twisted = assemble(bow, layout);
            const End end = s.name.find("top") != std::string::npos ? End::top : End::bottom;
            const AxleParts& axle = today.axle(end);
            const solver::NodeId node = s.name.find("left") != std::string::npos ? axle.left : axle.right;
            for (const CablePart& part : today.cables) {
                if (part.kind != CableKind::yoke_leg) continue;
                const solver::Cable& leg = today.cable(part);
                const double shorter = leg.data().natural_length - twisted.cable(part).data().natural_length;
                const bool meant = leg.contacts().back().frame.node == node;
                EXPECT_NEAR(shorter, meant ? bow.cables.shortening_per_turn : 0, 1e-12)
                    << name << ": " << s.name << ", " << part.name;
            }
        }
    }
}

TEST(ThinnestSpacer, IsTheThinnestOfAllStacksAndHalfAMillimetreWithoutAny) {
    Bow bow = testing::small_bow();
    EXPECT_EQ(thinnest_spacer(bow), 1.5);
    bow.layout.spacers_bottom.right = {3, 0.8};
    EXPECT_EQ(thinnest_spacer(bow), 0.8);
    bow.layout.spacers_top = bow.layout.spacers_bottom = {};
    EXPECT_EQ(thinnest_spacer(bow), 0.5);
}

}  // namespace
}  // namespace limbwright::models::settings_test
