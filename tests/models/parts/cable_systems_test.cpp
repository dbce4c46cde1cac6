#include "models/parts/cable_systems.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <set>

#include "models/parts/assembled_bow.hpp"
#include "tests/support/small_bow.hpp"

namespace limbwright::models::cable_systems_test {
namespace {

AssembledBow with_system(CableSystem system) {
    Bow bow = testing::small_bow();
    bow.cables.system = system;
    bow.cables.yoke_leg = 110;
    return assemble(bow);
}

/// What a cable meets, in order: "sheave" with its end, or "point".
std::vector<std::string> met(const AssembledBow& bow, const CablePart& part) {
    std::vector<std::string> names;
    for (const solver::Contact& c : bow.cable(part).contacts()) {
        const std::string end = c.frame.node == bow.axles[0].middle   ? "top "
                                : c.frame.node == bow.axles[1].middle ? "bottom "
                                                                      : "";
        names.push_back(end + (c.sheave ? "sheave" : "point"));
    }
    return names;
}

using Names = std::vector<std::string>;

TEST(CableSystems, AreAllInTheTableOnceUnderTheirOwnName) {
    std::set<std::string> names;
    for (const CableSystemEntry& entry : cable_systems()) {
        EXPECT_EQ(&entry_of(entry.system), &entry);
        EXPECT_TRUE(names.insert(std::string(entry.name)).second);
        EXPECT_NE(entry.text, "");
    }
    EXPECT_EQ(names, (std::set<std::string>{"crossed", "yoked", "mixed", "single_cam"}));
}

TEST(CableSystems, CrossedCablesRunFromTakeUpThroughTheGuideToLetOut) {
    const AssembledBow bow = with_system(CableSystem::crossed);
    ASSERT_EQ(bow.cables.size(), 2u);
    EXPECT_EQ(met(bow, bow.cables[0]), (Names{"top sheave", "point", "bottom sheave"}));
    EXPECT_EQ(met(bow, bow.cables[1]), (Names{"bottom sheave", "point", "top sheave"}));
}

TEST(CableSystems, YokedCablesEndAtAYokeEach) {
    const AssembledBow bow = with_system(CableSystem::yoked);
    ASSERT_EQ(bow.cables.size(), 6u);
    EXPECT_EQ(met(bow, bow.cables[0]), (Names{"top sheave", "point", "point"}));
    EXPECT_EQ(met(bow, bow.cables[3]), (Names{"bottom sheave", "point", "point"}));
    EXPECT_EQ(bow.cable(bow.cables[4]).contacts().back().frame.node, bow.axles[0].left);
    EXPECT_EQ(bow.cable(bow.cables[5]).contacts().back().frame.node, bow.axles[0].right);
}

TEST(CableSystems, MixedHasOneCableOfEachKind) {
    const AssembledBow bow = with_system(CableSystem::mixed);
    ASSERT_EQ(bow.cables.size(), 4u);
    EXPECT_EQ(met(bow, bow.cables[0]), (Names{"top sheave", "point", "bottom sheave"}));
    EXPECT_EQ(met(bow, bow.cables[1]), (Names{"bottom sheave", "point", "point"}));
}

TEST(CableSystems, ASingleCamsStringPassesTheIdlerAndTheGuideBackToItsCam) {
    const AssembledBow bow = with_system(CableSystem::single_cam);
    ASSERT_EQ(bow.cables.size(), 3u);
    EXPECT_EQ(met(bow, bow.string[0]), (Names{"point", "top sheave", "point", "bottom sheave"}));
    EXPECT_EQ(met(bow, bow.string[1]), (Names{"point", "bottom sheave"}));
    EXPECT_EQ(met(bow, bow.cables[0]), (Names{"bottom sheave", "point", "point"}));
}

TEST(CableSystems, WithoutAGuideCablesRunFromSheaveToSheave) {
    Bow bow = testing::small_bow();
    bow.guide.kind = GuideKind::none;
    const AssembledBow assembled = assemble(bow);
    EXPECT_EQ(met(assembled, assembled.cables[0]), (Names{"top sheave", "bottom sheave"}));
}

}  // namespace
}  // namespace limbwright::models::cable_systems_test
