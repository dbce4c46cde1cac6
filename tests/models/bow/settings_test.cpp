#include "models/bow/settings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <stdexcept>

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

TEST(Settings, OfTheBowItselfAreMovedByALayoutFromWhereverItStands) {
    const Bow bow = testing::small_bow();
    Layout up = bow.layout, down = bow.layout;
    up.moved["rest_height"] = 2;
    down.moved["rest_height"] = -1;
    const Bow moved = with_layout(bow, up);
    EXPECT_EQ(moved.shooter.rest, Vec3(bow.shooter.rest + Vec3(0, 0, 2)));
    EXPECT_EQ(with_layout(moved, up).shooter.rest, moved.shooter.rest);
    EXPECT_EQ(with_layout(moved, down).shooter.rest, Vec3(bow.shooter.rest - Vec3(0, 0, 1)));
    EXPECT_EQ(with_layout(moved, bow.layout).shooter.rest, bow.shooter.rest);
    EXPECT_EQ(assemble(bow, up).bow.shooter.rest, moved.shooter.rest);
    up.moved["no such key"] = 1;
    EXPECT_THROW((void)with_layout(bow, up), std::invalid_argument);
}

TEST(Settings, StandOnABowWhereTheyAreSet) {
    Bow bow = testing::demo_bow("yoked");
    for (const Setting& s : settings_of(bow)) {
        const double wanted = s.get_of(bow) + 0.25;
        s.set_of(bow, wanted);
        EXPECT_NEAR(s.get_of(bow), wanted, 1e-12) << s.name;
    }
}

TEST(Settings, AreTakenOverFromAnotherLayoutToTheLastBit) {
    const Bow bow = testing::demo_bow("mixed");
    Layout from = bow.layout;
    from.spacers_top = {{0.1, 0.7}, {0.3}};
    const std::vector<Setting> settings = settings_of(bow);
    for (const Setting& s : settings)
        if (s.work != Work::spacers) s.set(from, s.get(from) + 1.0 / 3);
    Layout to = bow.layout;
    for (const Setting& s : settings) s.take(to, from);
    for (const Setting& s : settings) EXPECT_EQ(s.get(to), s.get(from)) << s.name;
}

TEST(Settings, SayWhatMovesWhichWay) {
    const std::vector<Setting> all = settings_of(testing::demo_bow("yoked"), 1.5);
    const auto told = [&](const char* key, double change) {
        return change_in_words(*find(all, key), 0, change);
    };
    EXPECT_EQ(told("guide_lateral", -2.5), "cable guide 2.5 mm right");
    EXPECT_EQ(told("guide_angle", 2 * units::degree), "cable guide's left side 2 deg toward the archer");
    EXPECT_EQ(told("bolt_top", 0.5), "top limb bolt 0.5 turns out");
    EXPECT_EQ(told("twist_string", -1), "halves of the string 1 turn longer");
    EXPECT_EQ(told("twist_cable_first", 1), "top take-up cable 1 turn shorter");
    EXPECT_EQ(told("twist_yoke_bottom_left", 2), "left leg of the bottom yoke 2 turns shorter");
    EXPECT_EQ(told("spacers_top", -1), "top cam 1 mm right");
    EXPECT_EQ(told("limb_number_top_left", 51), "limb 51 top left");
    EXPECT_EQ(told("nocking_point", -1), "nocking point 1 mm down");
    EXPECT_EQ(find(all, "spacers_top")->step_name, "1.5 mm spacer to right, cam 1.5 mm left");
    EXPECT_EQ(find(all, "limb_number_top_left")->step_name, "1 number stiffer");
    EXPECT_EQ(find(all, "twist_string")->step_name, "1 turn shorter");
}

TEST(Settings, TellALayoutFromAnotherByWhatDiffers) {
    const Bow bow = testing::small_bow();
    const std::vector<Setting> all = settings_of(bow);
    Layout to = bow.layout;
    EXPECT_EQ(change_in_words(all, bow.layout, to), "");
    to.guide_lateral += 1;
    to.pairing.bottom_right = 47;
    EXPECT_EQ(change_in_words(all, bow.layout, to), "limb 47 bottom right, cable guide 1 mm left");
}

TEST(Settings, ThatGoAgainstAnotherNameOneThatTheBowHas) {
    for (const char* name : testing::demo_bows) {
        const std::vector<Setting> all = settings_of(testing::demo_bow(name));
        for (const Setting& s : all)
            if (!s.reach.against.empty()) {
                EXPECT_TRUE(find(all, s.reach.against)) << name << ": " << s.name;
            }
    }
}

TEST(Work, TakesTheToolsOfItsKind) {
    EXPECT_STREQ(name_of_tools(tools_for(Work::none)), "none");
    for (const Work work : {Work::rest, Work::nocking_point, Work::guide, Work::bolts})
        EXPECT_STREQ(name_of_tools(tools_for(work)), "keys");
    for (const Work work : {Work::cables, Work::yokes})
        EXPECT_STREQ(name_of_tools(tools_for(work)), "twists");
    EXPECT_STREQ(name_of_tools(tools_for(Work::spacers)), "spacers");
    EXPECT_STREQ(name_of_tools(tools_for(Work::limbs)), "limbs");
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
