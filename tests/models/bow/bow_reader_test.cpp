#include "models/bow/bow_reader.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "models/bow/bow_file.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::bow_reader_test {
namespace {

constexpr double degree = std::numbers::pi / 180;

Bow read(const std::string& text) {
    return bow_from_toml(text, "bow.toml");
}

TEST(BowReader, RiserAndPocketsAreReadIntoTheirNumbers) {
    const Bow bow = read(crossed_bow_text);
    EXPECT_EQ(bow.name, "First bow");
    EXPECT_EQ(bow.story, "Bought used; tears left.");
    ASSERT_EQ(bow.riser.stations.size(), 3u);
    EXPECT_EQ(bow.riser.stations[1].position, Vec3(0, -12, 10));
    EXPECT_EQ(bow.riser.stations[1].width, 28);
    EXPECT_EQ(bow.riser.stations[2].depth, 46);
    EXPECT_EQ(bow.riser.material.along, 70000);
    EXPECT_EQ(bow.riser.material.shear, 26000);
    EXPECT_EQ(bow.riser.fill, 0.55);
    EXPECT_EQ(bow.riser.elements, 16);
    EXPECT_EQ(bow.pocket_top.position, Vec3(62, 0, 255));
    EXPECT_DOUBLE_EQ(bow.pocket_bottom.angle, 51 * degree);
    EXPECT_DOUBLE_EQ(bow.pocket_top.angle_per_turn, 0.8 * degree);
    EXPECT_EQ(bow.pocket_bottom.angle_per_turn, 0);
    EXPECT_EQ(bow.pocket_top.bending_stiffness, 9e6);
    EXPECT_EQ(bow.pocket_bottom.twisting_stiffness, 8e5);
    EXPECT_FALSE(bow.pocket_top.twisting_stiffness);
}

TEST(BowReader, LimbsAndAxlesAreReadIntoTheirNumbers) {
    const Bow bow = read(crossed_bow_text);
    EXPECT_EQ(bow.limb.kind, LimbKind::split);
    EXPECT_DOUBLE_EQ(bow.limb.length, 279.4);
    ASSERT_EQ(bow.limb.stations.size(), 3u);
    EXPECT_EQ(bow.limb.stations[1].at, 0.5);
    EXPECT_EQ(bow.limb.stations[1].width, 18);
    EXPECT_EQ(bow.limb.stations[1].thickness, 8.5);
    EXPECT_DOUBLE_EQ(bow.limb.stations[0].curvature, 0.0012);
    EXPECT_EQ(bow.limb.stations[1].curvature, 0);
    EXPECT_EQ(bow.limb.material.along, 45000);
    EXPECT_FALSE(bow.limb.spring_rate);
    EXPECT_EQ(bow.limb.reference_number, 52);
    EXPECT_EQ(bow.limb.lateral, 24);
    EXPECT_EQ(bow.limb.bore_offset, 2);
    EXPECT_EQ(bow.limb.strain_allowable, 0.011);
    EXPECT_EQ(bow.limb.elements, Limb{}.elements);
    EXPECT_DOUBLE_EQ(bow.axle_top.diameter, 4.7625);
    EXPECT_EQ(bow.axle_bottom.length, 70);
    EXPECT_EQ(bow.axle_bottom.material.shear, 79000);
    EXPECT_EQ(bow.axle_top.stress_allowable, 900);
    EXPECT_FALSE(bow.gap);
    EXPECT_EQ(bow.play, 0.3);
}

TEST(BowReader, ARiserAndLimbsAreBeamsUnlessTheFileSaysOtherwise) {
    const Bow bow = read(crossed_bow_text);
    EXPECT_EQ(bow.riser.model, PartModel::beam);
    EXPECT_EQ(bow.limb.model, PartModel::beam);
    EXPECT_TRUE(bow.riser.cut_outs.empty());
    EXPECT_TRUE(bow.limb.plies.empty());
    EXPECT_FALSE(bow.riser.mesh);
    EXPECT_FALSE(bow.limb.mesh);
    EXPECT_EQ(bow.riser.shells, Riser{}.shells);
    EXPECT_EQ(bow.limb.shells_across, Limb{}.shells_across);
}

TEST(BowReader, ARiserOfShellsIsReadIntoItsNumbers) {
    const Riser riser = read(laminated_bow_text).riser;
    EXPECT_EQ(riser.model, PartModel::shell);
    EXPECT_EQ(riser.shells, 50);
    EXPECT_EQ(riser.shells_across, 5);
    ASSERT_EQ(riser.cut_outs.size(), 2u);
    EXPECT_EQ(riser.cut_outs[0].from, 60);
    EXPECT_EQ(riser.cut_outs[0].to, 140);
    EXPECT_EQ(riser.cut_outs[0].behind, 0.25);
    EXPECT_EQ(riser.cut_outs[0].front, 0.75);
    EXPECT_DOUBLE_EQ(riser.cut_outs[1].from, -152.4);
    EXPECT_EQ(riser.cut_outs[1].behind, 0);
    EXPECT_EQ(riser.cut_outs[1].front, 0.5);
}

TEST(BowReader, ACutOutWithoutAFrontIsOpenTowardTheTarget) {
    EXPECT_EQ(read(without(laminated_bow_text, ", front = 0.75")).riser.cut_outs[0].front, 1);
}

TEST(BowReader, CamsGuideAndCablesAreReadIntoTheirNumbers) {
    const Bow bow = read(crossed_bow_text);
    EXPECT_EQ(bow.cam_top.hub, 26);
    EXPECT_DOUBLE_EQ(bow.cam_top.stop.value(), 190 * degree);
    EXPECT_EQ(bow.cam_top.stop_stiffness, Cam{}.stop_stiffness);
    EXPECT_EQ(bow.cam_top.string.circle->centre, Vec2(3, -8));
    EXPECT_EQ(bow.cam_top.string.circle->radius, 45);
    EXPECT_EQ(bow.cam_top.string.lateral, -2);
    EXPECT_DOUBLE_EQ(bow.cam_top.string.anchor, -110 * degree);
    EXPECT_EQ(bow.cam_top.take_up->circle->radius, 28);
    EXPECT_EQ(bow.cam_top.let_out->lateral, 8);
    EXPECT_EQ(bow.guide.kind, GuideKind::rod);
    EXPECT_EQ(bow.guide.position, Vec3(-30, -20, 40));
    EXPECT_EQ(bow.guide.spacing, 6);
    EXPECT_EQ(bow.guide.rod_length, 90);
    EXPECT_EQ(bow.cables.system, CableSystem::crossed);
    EXPECT_EQ(bow.cables.string_stiffness, 180000);
    EXPECT_EQ(bow.cables.cable_stiffness, 200000);
    EXPECT_EQ(bow.cables.shortening_per_turn, 0.15);
    EXPECT_EQ(bow.cables.diameter, Cables{}.diameter);
    EXPECT_TRUE(bow.cables.cables.empty());
}

TEST(BowReader, BraceShooterAndLayoutAreReadIntoTheirNumbers) {
    const Bow bow = read(crossed_bow_text);
    EXPECT_DOUBLE_EQ(bow.brace.axle_to_axle, 838.2);
    EXPECT_EQ(bow.brace.nocking_point_height, 3);
    EXPECT_DOUBLE_EQ(bow.brace.brace_height.value(), 177.8);
    EXPECT_DOUBLE_EQ(bow.brace.mark_top, degree);
    EXPECT_EQ(bow.brace.mark_bottom, 0);
    EXPECT_EQ(bow.shooter.hand, Hand::right);
    EXPECT_EQ(bow.shooter.rest, Vec3(40, 0, 3));
    EXPECT_EQ(bow.shooter.vane_radius, 12);
    EXPECT_DOUBLE_EQ(bow.shooter.draw_length.value(), 736.6);
    EXPECT_EQ(bow.shooter.states, Shooter{}.states);
    EXPECT_EQ(bow.layout.guide_lateral, -0.5);
    EXPECT_DOUBLE_EQ(bow.layout.guide_angle, degree);
    EXPECT_EQ(bow.layout.bolt_top, 2);
    EXPECT_EQ(bow.layout.bolt_bottom, 1.5);
    EXPECT_EQ(bow.layout.hand_yaw_torque, 200);
    EXPECT_EQ(bow.layout.hand_pitch_torque, 0);
    EXPECT_EQ(bow.layout.pairing.top_left, 52);
    EXPECT_EQ(bow.layout.pairing.top_right, 53);
    EXPECT_EQ(bow.layout.pairing.bottom_left, 51);
    EXPECT_EQ(bow.layout.pairing.bottom_right, 52.5);
    EXPECT_EQ(bow.layout.spacers_top.left, (std::vector<double>{1.5}));
    EXPECT_EQ(bow.layout.spacers_top.right, (std::vector<double>{2, 2.4}));
    EXPECT_EQ(bow.layout.spacers_bottom.right, (std::vector<double>{3}));
    EXPECT_EQ(bow.layout.twist_string, 2);
    EXPECT_EQ(bow.layout.twist_cables, (std::array<double, 2>{1, -1}));
    EXPECT_EQ(bow.layout.twist_yoke_left, (std::array<double, 2>{0.5, 0}));
    EXPECT_EQ(bow.layout.twist_yoke_right, (std::array<double, 2>{0, 0}));
}

TEST(BowReader, WithoutABottomCamItIsTheTopCamsImage) {
    const Bow bow = read(crossed_bow_text);
    EXPECT_EQ(bow.cam_bottom.hub, 26);
    EXPECT_EQ(bow.cam_bottom.string.circle->centre, Vec2(3, 8));
    EXPECT_DOUBLE_EQ(bow.cam_bottom.string.anchor, 110 * degree);
    EXPECT_EQ(bow.cam_bottom.string.lateral, -2);
}

TEST(BowReader, AYokedBowIsRead) {
    const Bow bow = read(yoked_bow_text);
    EXPECT_EQ(bow.cables.system, CableSystem::yoked);
    EXPECT_DOUBLE_EQ(bow.cables.yoke_leg, 101.6);
}

TEST(BowReader, AYokedBowNeedsNoLetOut) {
    EXPECT_FALSE(read(without(yoked_bow_text, top_let_out_text)).cam_bottom.let_out);
}

TEST(BowReader, AMixedBowIsReadWithItsOwnBottomCam) {
    const Bow bow = read(mixed_bow_text);
    EXPECT_EQ(bow.cables.system, CableSystem::mixed);
    EXPECT_EQ(bow.cam_bottom.hub, 25.8);
    EXPECT_EQ(bow.cam_bottom.let_out->circle->radius, 13);
}

TEST(BowReader, ASingleCamBowIsReadWithAnIdlerAtTheTop) {
    const Bow bow = read(single_cam_bow_text);
    EXPECT_EQ(bow.cables.system, CableSystem::single_cam);
    EXPECT_FALSE(bow.cam_top.take_up);
    EXPECT_FALSE(bow.cam_top.let_out);
    EXPECT_TRUE(bow.cam_bottom.take_up);
}

TEST(BowReader, NaturalLengthsStandInForWhatWasMeasuredAtBrace) {
    std::string text = replaced(crossed_bow_text, R"([brace]
axle_to_axle = "33 in"
nocking_point_height = "3 mm"
brace_height = "7 in"
mark_top = "1 deg"
)",
                                "");
    text = replaced(text, "[cables]\n",
                    "[cables]\nstring_above = \"750 mm\"\nstring_below = \"740 mm\"\n"
                    "natural_lengths = [\"900 mm\", \"901 mm\"]\n");
    const Bow bow = read(text);
    EXPECT_EQ(bow.cables.string_above, 750);
    EXPECT_EQ(bow.cables.string_below, 740);
    EXPECT_EQ(bow.cables.cables, (std::vector<double>{900, 901}));
}

TEST(BowReader, AxlesMayDiffer) {
    const std::string text = replaced(crossed_bow_text, R"([axle]
diameter = "0.1875 in"
length = "70 mm"
material = { youngs_modulus = "205 GPa", shear_modulus = "79 GPa" }
stress_allowable = "900 MPa"
)",
                                      R"([axle.top]
diameter = "5 mm"
length = "70 mm"
material = { youngs_modulus = "205 GPa", shear_modulus = "79 GPa" }
stress_allowable = "900 MPa"
[axle.bottom]
diameter = "6 mm"
length = "71 mm"
material = { youngs_modulus = "110 GPa", shear_modulus = "41 GPa" }
stress_allowable = "700 MPa"
)");
    const Bow bow = read(text);
    EXPECT_EQ(bow.axle_top.diameter, 5);
    EXPECT_EQ(bow.axle_bottom.diameter, 6);
    EXPECT_EQ(bow.axle_bottom.material.along, 110000);
}

TEST(BowReader, ASolidLimbIsRead) {
    std::string text = replaced(crossed_bow_text, "kind = \"split\"",
                                "kind = \"solid\"\nfork = \"60 mm\"\nprong_width = \"16 mm\"");
    text = replaced(replaced(text, "top_right = 53", "top_right = 52"), "bottom_right = 52.5",
                    "bottom_right = 51");
    const Bow bow = read(text);
    EXPECT_EQ(bow.limb.kind, LimbKind::solid);
    EXPECT_EQ(bow.limb.fork, 60);
    EXPECT_EQ(bow.limb.prong_width, 16);
}

TEST(BowReader, AMeasuredSpringRateMayStandInForTheMaterial) {
    const std::string text =
        replaced(crossed_bow_text, R"(material = { youngs_modulus = "45 GPa", shear_modulus = "4 GPa" })",
                 R"(spring_rate = "30 lbf/in")");
    EXPECT_DOUBLE_EQ(read(text).limb.spring_rate.value(), 30 * 4.4482216152605 / 25.4);
}

TEST(BowReader, ABendingRodAndAGivenGapAreRead) {
    std::string text = replaced(crossed_bow_text, "kind = \"rod\"",
                                "kind = \"bending_rod\"\nrod_diameter = \"9.5 mm\"\n"
                                "rod_material = { youngs_modulus = \"120 GPa\", shear_modulus = \"5 GPa\" }");
    text = replaced(text, "[tips]", "[tips]\ngap = \"32.1 mm\"");
    const Bow bow = read(text);
    EXPECT_EQ(bow.guide.kind, GuideKind::bending_rod);
    EXPECT_EQ(bow.guide.rod_diameter, 9.5);
    EXPECT_EQ(bow.guide.rod_material.along, 120000);
    EXPECT_EQ(bow.gap, 32.1);
}

TEST(BowReader, DensitiesAndMassesAreReadInTonnes) {
    std::string text = replaced(crossed_bow_text, R"(shear_modulus = "4 GPa")",
                                R"(shear_modulus = "4 GPa", density = "1850 kg/m3")");
    text = replaced(text, "[cam.top]", "[cam.top]\nmass = \"105 g\"");
    text = replaced(text, "[cables]", "[cables]\nstring_mass = \"4.5 g/m\"\ncable_mass = \"3.8 g/m\"");
    const Bow bow = read(text);
    EXPECT_DOUBLE_EQ(bow.limb.material.density.value(), 1.85e-9);
    EXPECT_DOUBLE_EQ(bow.cam_top.mass.value(), 105e-6);
    EXPECT_DOUBLE_EQ(bow.cam_bottom.mass.value(), 105e-6);  // made of the top one
    EXPECT_DOUBLE_EQ(bow.cables.string_mass.value(), 4.5e-9);
    EXPECT_DOUBLE_EQ(bow.cables.cable_mass.value(), 3.8e-9);
    EXPECT_FALSE(bow.riser.material.density);
}

TEST(BowReader, ADensityOffByAThousandIsRefused) {
    const std::string text = replaced(crossed_bow_text, R"(shear_modulus = "4 GPa")",
                                      R"(shear_modulus = "4 GPa", density = "1850 g/cm3")");
    try {
        static_cast<void>(read(text));
        FAIL() << "a limb heavier than any metal";
    } catch (const InputError& error) {
        EXPECT_NE(std::string(error.what()).find("limb.material.density"), std::string::npos) << error.what();
    }
}

}  // namespace
}  // namespace limbwright::models::bow_reader_test
