#include "models/bow/bow_writer.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/bow/bow_file.hpp"
#include "models/bow/settings.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::bow_writer_test {
namespace {

Bow read(const std::string& text) {
    return bow_from_toml(text, "bow.toml");
}

/// Reading what was written must give a bow that is written alike: every field of a bow shows in its text,
/// with all its digits.
void expect_round_trip(const Bow& bow) {
    const std::string text = bow_to_toml(bow);
    EXPECT_EQ(bow_to_toml(read(text)), text);
}

/// Every optional field, and numbers without a short decimal form.
Bow bow_with_everything() {
    Bow bow = read(mixed_bow_text);
    bow.story = "Two lines,\n\"quoted\", a back\\slash, a tab\t and 45°.";
    bow.riser.stations[1].position = Vec3(1.0 / 3, -std::sqrt(2), std::exp(1));
    bow.pocket_top.angle = 1.0 / 3;
    bow.pocket_top.twisting_stiffness = 1e6 / 3;
    bow.pocket_bottom.bending_stiffness = 2e6 / 3;
    bow.limb.spring_rate = 19.0 / 3;
    bow.limb.fork = 60;
    bow.limb.prong_width = 16;
    bow.axle_bottom.diameter = 6;
    bow.gap = 32.1;
    bow.cam_bottom.stop = 10.0 / 3;
    bow.guide.kind = GuideKind::bending_rod;
    bow.guide.rod_diameter = 9.5;
    bow.guide.rod_material = {120000, 5000, 1.6e-9};
    bow.riser.material.density = 2.7e-9 / 3;
    bow.limb.material.density = 1.9e-9;
    bow.axle_top.material.density = 7.85e-9;
    bow.cam_bottom.mass = 0.0001 / 3;
    bow.cables.string_mass = 4e-9;
    bow.cables.cable_mass = 5e-9 / 3;
    bow.cables.string_above = 750;
    bow.cables.string_below = 2000.0 / 3;
    bow.cables.cables = {900, 901};
    bow.brace.mark_bottom = 0.01;
    bow.layout.twist_yoke_right = {0.25, 1.0 / 3};
    bow.layout.hand_pitch_torque = -1000.0 / 3;
    return bow;
}

TEST(BowWriter, EveryCableSystemReadsBack) {
    for (const std::string& text : {crossed_bow_text, yoked_bow_text, mixed_bow_text, single_cam_bow_text})
        expect_round_trip(read(text));
}

TEST(BowWriter, ABowWithEveryOptionalFieldReadsBack) {
    expect_round_trip(bow_with_everything());
}

TEST(BowWriter, ShellsCutOutsAndPliesReadBack) {
    Bow bow = read(laminated_bow_text);
    bow.riser.material.across = 60000.0 / 7;
    bow.riser.material.poisson = 1.0 / 3;
    bow.limb.plies[0].angle = 1.0 / 3;
    bow.limb.plies[0].lamina.shear_23 = 4000.0 / 3;
    bow.limb.spring_rate = 5;
    expect_round_trip(bow);
    const Bow again = read(bow_to_toml(bow));
    EXPECT_EQ(again.riser.model, PartModel::shell);
    EXPECT_DOUBLE_EQ(again.riser.material.across.value(), 60000.0 / 7);
    EXPECT_EQ(again.riser.material.poisson, 1.0 / 3);
    ASSERT_EQ(again.riser.cut_outs.size(), 2u);
    EXPECT_EQ(again.riser.cut_outs[1].front, 0.5);
    EXPECT_EQ(again.limb.shells_across, 6);
    ASSERT_EQ(again.limb.plies.size(), 3u);
    EXPECT_DOUBLE_EQ(again.limb.plies[0].angle, 1.0 / 3);
    EXPECT_DOUBLE_EQ(again.limb.plies[0].lamina.shear_23, 4000.0 / 3);
    EXPECT_FALSE(again.limb.plies[1].thickness);
    EXPECT_EQ(again.limb.plies[2].lamina_name, "carbon");
    EXPECT_DOUBLE_EQ(again.limb.plies[2].lamina.along, 130000);
}

TEST(BowWriter, LaminaeThatShareANameOrHaveNoneAreToldApart) {
    Bow bow = read(laminated_bow_text);
    for (LimbPly& ply : bow.limb.plies) ply.lamina_name = "two words";
    bow.limb.plies[1].lamina_name.clear();
    const Bow again = read(bow_to_toml(bow));
    for (std::size_t i = 0; i < 3; ++i)
        EXPECT_DOUBLE_EQ(again.limb.plies[i].lamina.along, bow.limb.plies[i].lamina.along) << i;
}

TEST(BowWriter, ALaminaOfTwoPliesIsWrittenOnce) {
    Bow bow = read(laminated_bow_text);
    bow.limb.plies.push_back(bow.limb.plies.front());
    const std::string text = bow_to_toml(bow);
    EXPECT_EQ(text.find("[lamina.glass]"), text.rfind("[lamina.glass]"));
    EXPECT_EQ(read(text).limb.plies.size(), 4u);
}

TEST(BowWriter, AMeshIsWrittenAsTheNameOfItsFile) {
    Bow bow = read(laminated_bow_text);
    bow.riser.mesh = PartMesh{"meshes/riser.vtu", {}};
    bow.limb.mesh = PartMesh{"limb.vtu", {}};
    const std::string text = bow_to_toml(bow);
    EXPECT_NE(text.find("mesh = \"meshes/riser.vtu\"\n"), std::string::npos);
    EXPECT_NE(text.find("mesh = \"limb.vtu\"\n"), std::string::npos);
}

TEST(BowWriter, NumbersReadBackToTheirLastBits) {
    const Bow bow = bow_with_everything(), again = read(bow_to_toml(bow));
    for (int i = 0; i < 3; ++i)
        EXPECT_DOUBLE_EQ(again.riser.stations[1].position[i], bow.riser.stations[1].position[i]);
    EXPECT_DOUBLE_EQ(again.limb.spring_rate.value(), bow.limb.spring_rate.value());
    EXPECT_DOUBLE_EQ(again.limb.material.along, bow.limb.material.along);
    EXPECT_DOUBLE_EQ(again.pocket_top.twisting_stiffness.value(), bow.pocket_top.twisting_stiffness.value());
    EXPECT_DOUBLE_EQ(again.cables.string_below.value(), bow.cables.string_below.value());
    EXPECT_EQ(again.cables.cables, bow.cables.cables);
    EXPECT_EQ(again.layout.twist_yoke_right, bow.layout.twist_yoke_right);
    EXPECT_DOUBLE_EQ(again.layout.hand_pitch_torque, bow.layout.hand_pitch_torque);
    EXPECT_EQ(again.gap, bow.gap);
    EXPECT_DOUBLE_EQ(again.pocket_top.angle, bow.pocket_top.angle);
    EXPECT_DOUBLE_EQ(again.cam_bottom.stop.value(), bow.cam_bottom.stop.value());
    EXPECT_DOUBLE_EQ(again.cam_top.string.anchor, bow.cam_top.string.anchor);
}

TEST(BowWriter, AStoryWithQuotesAndLinesReadsBack) {
    EXPECT_EQ(read(bow_to_toml(bow_with_everything())).story, bow_with_everything().story);
}

TEST(BowWriter, AMirroredBowReadsBack) {
    expect_round_trip(mirrored(bow_with_everything()));
}

TEST(BowWriter, WhatALayoutMovesIsWrittenWhereItStands) {
    Bow bow = read(mixed_bow_text);
    bow.cables.string_above = 650;
    bow.cables.string_below = 690;
    bow.layout.nocking_point = 2;
    Layout layout = bow.layout;
    layout.moved["rest_lateral"] = 1;
    const Bow again = read(bow_to_toml(with_layout(bow, layout)));
    EXPECT_EQ(again.shooter.rest, Vec3(bow.shooter.rest + Vec3(0, 1, 0)));
    EXPECT_EQ(*again.cables.string_above, 648);
    EXPECT_EQ(*again.cables.string_below, 692);
    EXPECT_EQ(again.brace.nocking_point_height, bow.brace.nocking_point_height + 2);
    EXPECT_EQ(again.layout.nocking_point, 0);
}

TEST(BowWriter, NothingMeasuredAtBraceIsNotWritten) {
    Bow bow = bow_with_everything();
    bow.brace = Brace{};
    EXPECT_EQ(bow_to_toml(bow).find("[brace]"), std::string::npos);
    expect_round_trip(bow);
}

TEST(BowWriter, PlainValuesStayPlain) {
    const std::string text = bow_to_toml(read(crossed_bow_text));
    EXPECT_NE(text.find("axle_to_axle = \"838.2 mm\"\n"), std::string::npos);
    EXPECT_NE(text.find("angle = \"50 deg\""), std::string::npos);
    EXPECT_NE(text.find("top_left = 52\n"), std::string::npos);
}

TEST(BowWriter, EveryTableSaysWhatItsKeysMean) {
    const std::string text = bow_to_toml(read(crossed_bow_text));
    EXPECT_NE(text.find("hub = \"26 mm\"  # width that fills the gap together with the spacers\n"),
              std::string::npos);
}

}  // namespace
}  // namespace limbwright::models::bow_writer_test
