#include "models/bow/bow_checks.hpp"

#include <gtest/gtest.h>

#include "models/bow/bow_file.hpp"
#include "tests/models/bow/bow_texts.hpp"

namespace limbwright::models::bow_checks_test {
namespace {

std::string said(const std::string& text) {
    try {
        (void)bow_from_toml(text, "b.toml");
    } catch (const InputError& error) {
        return error.what();
    }
    return "nothing";
}

/// What reading says when one passage of the crossed bow's file is changed.
std::string said_with(std::string_view from, std::string_view to) {
    return said(replaced(crossed_bow_text, from, to));
}

struct Mistake {
    const char* from;
    const char* to;
    const char* line;
};

class OneMistake : public ::testing::TestWithParam<Mistake> {};

TEST_P(OneMistake, IsToldInOneLineWithItsPlace) {
    EXPECT_EQ(said_with(GetParam().from, GetParam().to), GetParam().line);
}

// clang-format off
INSTANTIATE_TEST_SUITE_P(BowFile, OneMistake, ::testing::Values(
    Mistake{R"(cable_system = "crossed")", R"(cable_system = "binary")", R"(b.toml:3:16: cable_system must be one of "crossed", "yoked", "mixed", "single_cam", but is "binary")"},
    Mistake{R"(cable_system = "crossed")", "", R"(b.toml:1:1: cable_system is missing; it must be one of "crossed", "yoked", "mixed", "single_cam")"},
    Mistake{"name = \"First bow\"\n", "", "b.toml:1:1: name is missing; it must be a text in quotes"},
    Mistake{"fill = 0.55", "fill = 0", "b.toml:7:8: riser.fill must be above 0 and at most 1, but is 0"},
    Mistake{"fill = 0.55", "fil = 0.55", "b.toml:7:1: riser.fil is not a known key; did you mean riser.fill?"},
    Mistake{"elements = 16", "elements = 1", "b.toml:8:12: riser.elements must be a whole number between 2 and 1000, but is 1"},
    Mistake{R"("0 mm", "-12 mm", "10 mm")", R"("0 mm", "-12 mm", "260 mm")", "b.toml:12:12: riser.stations[2].at must stand above the station before it, which is at a height of 260 mm, but is 250 mm"},
    Mistake{R"("0 mm", "-12 mm", "10 mm")", R"("0 mm", "-12 mm")", R"(b.toml:11:12: riser.stations[1].at must be three lengths such as ["20 mm", "-18 mm", "300 mm"], but is a list of 2)"},
    Mistake{R"(position = ["62 mm", "0 mm", "255 mm"])", R"(position = ["62 mm", "0 mm", "-255 mm"])", "b.toml:16:12: pocket.top.position must be above the pivot point, but is -255 mm"},
    Mistake{R"(angle = "50 deg")", "angle = 50", R"(b.toml:17:9: pocket.top.angle needs a unit, such as "2.5 deg" or "0.04 rad", but is 50)"},
    Mistake{R"(angle = "50 deg")", R"(angle = "50 mm")", R"(b.toml:17:9: pocket.top.angle must be an angle such as "2.5 deg" or "0.04 rad", but is "50 mm", a length)"},
    Mistake{R"(bending_stiffness = "9000 N m/rad")", R"(bending_stiffness = "-9000 N m/rad")", R"(b.toml:19:21: pocket.top.bending_stiffness must be above 0 N mm/rad, but is -9e+06 N mm/rad ("-9000 N m/rad"))"},
    Mistake{R"(length = "11 in")", R"(length = "nan mm")", "b.toml:28:10: limb.length must lie between 100 mm and 1000 mm, but is nan mm"},
    Mistake{R"(length = "11 in")", R"(length = "11 inchs")", R"(b.toml:28:10: limb.length must be a length such as "45 mm" or "1.75 in", but is "11 inchs")"},
    Mistake{"{ at = 0, width", "{ at = 0.1, width", "b.toml:30:12: limb.stations[0].at must be 0, the root, but is 0.1"},
    Mistake{"{ at = 1, width", "{ at = 0.9, width", "b.toml:32:12: limb.stations[2].at must be 1, the axle, but is 0.9"},
    Mistake{R"({ at = 0.5, width = "18 mm")", R"({ at = 0.5, width = "180 mm")", "b.toml:31:25: limb.stations[1].width must lie between 4 mm and 80 mm, but is 180 mm"},
    Mistake{R"({ at = 0.5, width = "18 mm")", R"({ at = 0, width = "18 mm")", "b.toml:31:12: limb.stations[1].at must be above that of the station before it, 0, but is 0"},
    Mistake{"material = { youngs_modulus = \"45 GPa\", shear_modulus = \"4 GPa\" }\n", "", "b.toml:26:1: limb needs a material, plies or a spring_rate"},
    Mistake{"reference_number = 52", "reference_number = -52", "b.toml:35:20: limb.reference_number must be above 0, but is -52"},
    Mistake{R"(lateral = "24 mm")", R"(lateral = "7 mm")", "b.toml:36:11: limb.lateral must leave a gap between the limb tips, but leaves -2 mm"},
    Mistake{R"(length = "70 mm")", R"(length = "30 mm")", "b.toml:42:10: axle.length must reach through both limb tips, whose gap is 32 mm, but is 30 mm"},
    Mistake{R"(right = ["2 mm", "2.4 mm"])", R"(right = ["2 mm", "3 mm"])", "b.toml:104:7: layout.spacers.top must fit between the limb tips: spacers of 6.5 mm and hub of 26 mm are 0.5 mm longer than the gap of 32 mm"},
    Mistake{R"(bottom = { left = ["3 mm"], right = ["3 mm"] })", R"(bottom = { left = ["3 mm"], right = ["2 mm"] })", "b.toml:105:10: layout.spacers.bottom must fill the gap between the limb tips within the play of 0.3 mm: spacers of 5 mm and hub of 26 mm are 1 mm short of the gap of 32 mm"},
    Mistake{R"(bottom = { left = ["3 mm"], right = ["3 mm"] })", "", "b.toml:103:1: layout.spacers.bottom is missing; it must be a table of its own"},
    Mistake{"circle = { centre = [\"1 mm\", \"2 mm\"], radius = \"28 mm\" }\n", "", "b.toml:58:1: cam.top.take_up needs exactly one of circle, traced and support, but is given none of them"},
    Mistake{"circle = { centre = [\"1 mm\", \"2 mm\"], radius = \"28 mm\" }\n", "traced = \"none.csv\"\n", "b.toml:59:10: cam.top.take_up.traced must name a file beside the bow file, but none.csv cannot be read"},
    Mistake{R"(kind = "rod")", R"(kind = "roller")", R"(b.toml:69:8: guide.kind must be one of "none", "rollers", "rod", "bending_rod", but is "roller")"},
    Mistake{"rod_length = \"90 mm\"\n", "", "b.toml:68:1: guide.rod_length must be given for a rod"},
    Mistake{R"(string_stiffness = "180 kN")", R"(string_stiffness = "0 kN")", R"(b.toml:75:20: cables.string_stiffness must be above 0 N, but is 0 N ("0 kN"))"},
    Mistake{"[cables]\n", "[cables]\nnatural_lengths = [\"900 mm\"]\n", "b.toml:75:19: cables.natural_lengths must hold two lengths, but is a list of 1"},
    Mistake{"axle_to_axle = \"33 in\"\n", "", R"(b.toml:79:1: brace.axle_to_axle is missing; it must be a length such as "45 mm" or "1.75 in")"},
    Mistake{R"(axle_to_axle = "33 in")", R"(axle_to_axle = "45 in")", "b.toml:80:16: brace.axle_to_axle must be less than riser and limbs laid out straight, 1069.8 mm, but is 1143 mm"},
    Mistake{R"(hand = "right")", R"(hand = "Right")", R"(b.toml:86:8: shooter.hand must be one of "right", "left", but is "Right")"},
    Mistake{R"(draw_length = "29 in")", R"(draw_length = "215 mm")", "b.toml:89:15: shooter.draw_length must draw the nock beyond the brace height of 177.8 mm: that is above 222.25 mm, but is 215 mm"},
    Mistake{R"(draw_length = "29 in")", R"(draw_length = "5 in")", R"(b.toml:89:15: shooter.draw_length must lie between 200 mm and 1000 mm, but is 127 mm ("5 in"))"},
    Mistake{R"(stop = "190 deg")", R"(stop = "0 deg")", "b.toml:51:8: cam.top.stop must lie between 10 deg and 450 deg, but is 0 deg"},
    Mistake{"top_left = 52\n", "top_left = \"52\"\n", R"(b.toml:98:12: layout.pairing.top_left must be a plain number, but is "52")"},
    Mistake{"top_left = 52\n", "", "b.toml:97:1: layout.pairing.top_left is missing; it must be a plain number"},
    Mistake{"cables = [1, -1]", "cables = [1]", "b.toml:109:10: layout.twists.cables must be a list of 2 plain numbers, but is a list of 1"},
    Mistake{R"(yaw = "0.2 N m")", R"(yaw = "0.2 N")", R"(b.toml:95:23: layout.hand_torque.yaw must be a torque such as "0.5 N m" or "4.4 lbf in", but is "0.2 N", a force)"},
    Mistake{"vane_radius", "vain_radius", "b.toml:88:1: shooter.vain_radius is not a known key; did you mean shooter.vane_radius?"},
    Mistake{"[shooter]", "draw_length = \"29 in\"\n[shooter]", "b.toml:85:1: brace.draw_length is not a known key; did you mean shooter.draw_length?"},
    Mistake{R"("0 mm", "250 mm"], width)", R"("0 mm", "inf mm"], width)", "b.toml:12:30: riser.stations[2].at[2] must lie between -1500 mm and 1500 mm, but is inf mm"}
));
// clang-format on

TEST(BowChecks, ManyMistakesAreToldAtOnceInTheOrderOfTheFile) {
    std::string text = replaced(crossed_bow_text, "fill = 0.55", "fill = 1.55");
    text = replaced(text, "[tips]", "[tip]");
    text = replaced(text, "[layout.pairing]", "[layout.paring]");
    text = replaced(text, "draw_length = \"29 in\"", "draw_length = 29");
    text = replaced(text, "[cam.top.let_out]", "[cam.top.letout]");
    EXPECT_EQ(
        said(text),
        "b.toml:7:8: riser.fill must be above 0 and at most 1, but is 1.55\n"
        "b.toml:46:2: tip is not a known key; did you mean tips?\n"
        "b.toml:49:1: cam.top.let_out is missing; a crossed bow needs it\n"
        "b.toml:63:10: cam.top.letout is not a known key; did you mean cam.top.let_out?\n"
        "b.toml:89:15: shooter.draw_length needs a unit, such as \"45 mm\" or \"1.75 in\", but is 29\n"
        "b.toml:91:1: layout.pairing is missing; it must be a table of its own\n"
        "b.toml:97:9: layout.paring is not a known key; did you mean layout.pairing?\n"
        "b.toml:104:7: layout.spacers.top must fill the gap between the limb tips within the play of 0 mm: "
        "spacers of 5.9 mm and hub of 26 mm are 0.1 mm short of the gap of 32 mm");
}

TEST(BowChecks, AMissingTableIsToldOnceWithoutWhatFollowsFromIt) {
    const auto limb = crossed_bow_text.find("[limb]"), axle = crossed_bow_text.find("[axle]");
    std::string text = crossed_bow_text;
    text.erase(limb, axle - limb);
    EXPECT_EQ(said(text), "b.toml:1:1: limb is missing; it must be a table of its own");
}

TEST(BowChecks, AnEmptyFileIsToldEverythingThatItNeeds) {
    EXPECT_EQ(
        said(""),
        "b.toml:1:1: name is missing; it must be a text in quotes\n"
        "b.toml:1:1: cable_system is missing; it must be one of \"crossed\", \"yoked\", \"mixed\", "
        "\"single_cam\"\n"
        "b.toml:1:1: riser is missing; it must be a table of its own\n"
        "b.toml:1:1: pocket is missing; it must be a table of its own\n"
        "b.toml:1:1: limb is missing; it must be a table of its own\n"
        "b.toml:1:1: axle is missing; it must be a table of its own\n"
        "b.toml:1:1: cam is missing; it must be a table of its own\n"
        "b.toml:1:1: cables is missing; it must be a table of its own\n"
        "b.toml:1:1: shooter is missing; it must be a table of its own\n"
        "b.toml:1:1: layout is missing; it must be a table of its own\n"
        "b.toml:1:1: brace is missing; it must hold what was measured at brace, or else [cables] must give "
        "string_above, string_below and natural_lengths");
}

TEST(BowChecks, ATrackMissingFromAMirroredBottomCamIsToldOnce) {
    EXPECT_EQ(said(without(crossed_bow_text, top_take_up_text)),
              "b.toml:49:1: cam.top.take_up is missing; a crossed bow needs it");
}

TEST(BowChecks, EachOfTwoDifferentCamsIsCheckedAgainstTheCableSystem) {
    const std::string text = replaced(mixed_bow_text, "\"mixed\"", "\"crossed\"");
    EXPECT_EQ(said(without(without(text, top_let_out_text), bottom_let_out_text)),
              "b.toml:49:1: cam.top.let_out is missing; a crossed bow needs it\n"
              "b.toml:109:1: cam.bottom.let_out is missing; a crossed bow needs it");
}

TEST(BowChecks, AMixedBowNeedsABottomCamOfItsOwn) {
    EXPECT_EQ(said(without(mixed_bow_text, bottom_cam_text + bottom_let_out_text)),
              "b.toml:49:1: cam.bottom is missing; it must be a table of its own");
}

TEST(BowChecks, AMixedBowNeedsALetOutAtTheBottom) {
    EXPECT_EQ(said(without(mixed_bow_text, bottom_let_out_text)),
              "b.toml:113:1: cam.bottom.let_out is missing; a mixed bow needs it");
}

TEST(BowChecks, TheIdlerOfASingleCamBowIsARoundWheelOnItsAxle) {
    EXPECT_EQ(
        said(replaced(single_cam_bow_text, R"(centre = ["0 mm", "0 mm"])", R"(centre = ["0 mm", "1 mm"])")),
        "b.toml:53:1: cam.top.string must be a circle centred on the axle, centre = [\"0 mm\", \"0 mm\"], "
        "because it is the idler's");
}

TEST(BowChecks, AYokeNeedsItsLegsLength) {
    EXPECT_EQ(said(without(yoked_bow_text, "yoke_leg = \"4 in\"\n")),
              "b.toml:74:1: cables.yoke_leg must be given where there is a yoke");
}

TEST(BowChecks, ASolidLimbNeedsForkProngsAndOneNumberAnEnd) {
    EXPECT_EQ(
        said_with("kind = \"split\"", "kind = \"solid\""),
        "b.toml:26:1: limb.fork must be above 0 mm and less than the limb's length of 279.4 mm, but is 0 mm\n"
        "b.toml:26:1: limb.prong_width must be above 0 mm in a solid limb, but is 0 mm\n"
        "b.toml:99:13: layout.pairing.top_right must equal top_left, 52, because a solid limb is one, but is "
        "53\n"
        "b.toml:101:16: layout.pairing.bottom_right must equal bottom_left, 51, because a solid limb is one, "
        "but is 52.5");
}

TEST(BowChecks, WithoutDrawLengthOrStopNothingEndsTheDraw) {
    EXPECT_EQ(
        said(without(without(crossed_bow_text, "draw_length = \"29 in\"\n"), "stop = \"190 deg\"\n")),
        "b.toml:84:1: shooter.draw_length is missing, and no cam has a stop; one of them must end the draw");
}

TEST(BowChecks, WithoutDrawLengthTheStopEndsTheDraw) {
    EXPECT_EQ(said(without(crossed_bow_text, "draw_length = \"29 in\"\n")), "nothing");
}

TEST(BowChecks, ARodThatBendsNeedsDiameterAndMaterial) {
    EXPECT_EQ(said_with("kind = \"rod\"", "kind = \"bending_rod\""),
              "b.toml:68:1: guide.rod_diameter must be given for a rod that bends\n"
              "b.toml:68:1: guide.rod_material must be given for a rod that bends");
}

TEST(BowChecks, ATrackHasOneShapeOnly) {
    EXPECT_EQ(said_with("radius = \"45 mm\" }", "radius = \"45 mm\" }\nsupport = \"h.csv\""),
              "b.toml:53:1: cam.top.string needs exactly one of circle, traced and support, but is given 2 "
              "of them\n"
              "b.toml:55:11: cam.top.string.support must name a file beside the bow file, but h.csv cannot "
              "be read");
}

TEST(BowChecks, WithoutBraceAllNaturalLengthsAreNeeded) {
    const auto brace = crossed_bow_text.find("[brace]"), shooter = crossed_bow_text.find("[shooter]");
    std::string text = crossed_bow_text;
    text.erase(brace, shooter - brace);
    EXPECT_EQ(said(text),
              "b.toml:1:1: brace is missing; it must hold what was measured at brace, or else [cables] must "
              "give string_above, string_below and natural_lengths");
}

TEST(BowChecks, ABowMadeInCodeIsCheckedToo) {
    Bow bow = bow_from_toml(crossed_bow_text, "b.toml");
    bow.layout.spacers_top.left = {9};
    Complaints complaints([](std::string_view) { return Place{}; });
    check(bow, complaints);
    ASSERT_EQ(complaints.all().size(), 1u);
    EXPECT_EQ(sentence(complaints.all()[0]),
              "layout.spacers.top must fit between the limb tips: spacers of 13.4 mm and hub of 26 mm are "
              "7.4 mm longer than the gap of 32 mm");
}

}  // namespace
}  // namespace limbwright::models::bow_checks_test
