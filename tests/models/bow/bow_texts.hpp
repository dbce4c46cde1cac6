#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

/// Bow files for the tests of the door in; the numbers are chosen to be told apart, not to shoot.
namespace limbwright::models {

/// The text with one passage, which must be there, replaced.
inline std::string replaced(std::string text, std::string_view from, std::string_view to) {
    const auto at = text.find(from);
    if (at == std::string::npos) throw std::logic_error("the text does not hold: " + std::string(from));
    return text.replace(at, from.size(), to);
}

inline std::string without(std::string text, std::string_view passage) {
    return replaced(std::move(text), passage, "");
}

inline const std::string crossed_bow_text = R"(name = "First bow"
story = "Bought used; tears left."
cable_system = "crossed"

[riser]
material = { youngs_modulus = "70 GPa", shear_modulus = "26 GPa" }
fill = 0.55
elements = 16
stations = [
    { at = ["60 mm", "0 mm", "-250 mm"], width = "40 mm", depth = "45 mm" },
    { at = ["0 mm", "-12 mm", "10 mm"], width = "28 mm", depth = "50 mm" },
    { at = ["60 mm", "0 mm", "250 mm"], width = "40 mm", depth = "46 mm" },
]

[pocket.top]
position = ["62 mm", "0 mm", "255 mm"]
angle = "50 deg"
angle_per_turn = "0.8 deg"
bending_stiffness = "9000 N m/rad"

[pocket.bottom]
position = ["62 mm", "0 mm", "-256 mm"]
angle = "51 deg"
twisting_stiffness = "800 N m/rad"

[limb]
kind = "split"
length = "11 in"
stations = [
    { at = 0, width = "19 mm", thickness = "10 mm", curvature = "1.2 1/m" },
    { at = 0.5, width = "18 mm", thickness = "8.5 mm" },
    { at = 1, width = "16 mm", thickness = "7 mm" },
]
material = { youngs_modulus = "45 GPa", shear_modulus = "4 GPa" }
reference_number = 52
lateral = "24 mm"
bore_offset = "2 mm"
strain_allowable = 0.011

[axle]
diameter = "0.1875 in"
length = "70 mm"
material = { youngs_modulus = "205 GPa", shear_modulus = "79 GPa" }
stress_allowable = "900 MPa"

[tips]
play = "0.3 mm"

[cam.top]
hub = "26 mm"
stop = "190 deg"

[cam.top.string]
circle = { centre = ["3 mm", "-8 mm"], radius = "45 mm" }
lateral = "-2 mm"
anchor = "-110 deg"

[cam.top.take_up]
circle = { centre = ["1 mm", "2 mm"], radius = "28 mm" }
lateral = "4 mm"
anchor = "30 deg"

[cam.top.let_out]
circle = { centre = ["-1 mm", "0 mm"], radius = "12 mm" }
lateral = "8 mm"
anchor = "-60 deg"

[guide]
kind = "rod"
position = ["-30 mm", "-20 mm", "40 mm"]
spacing = "6 mm"
rod_length = "90 mm"

[cables]
string_stiffness = "180 kN"
cable_stiffness = "200 kN"
shortening_per_turn = "0.15 mm"

[brace]
axle_to_axle = "33 in"
nocking_point_height = "3 mm"
brace_height = "7 in"
mark_top = "1 deg"

[shooter]
hand = "right"
rest = ["40 mm", "0 mm", "3 mm"]
vane_radius = "12 mm"
draw_length = "29 in"

[layout]
guide_lateral = "-0.5 mm"
guide_angle = "1 deg"
bolts = { top = 2, bottom = 1.5 }
hand_torque = { yaw = "0.2 N m" }

[layout.pairing]
top_left = 52
top_right = 53
bottom_left = 51
bottom_right = 52.5

[layout.spacers]
top = { left = ["1.5 mm"], right = ["2 mm", "2.4 mm"] }
bottom = { left = ["3 mm"], right = ["3 mm"] }

[layout.twists]
string = 2
cables = [1, -1]
yoke_left = [0.5, 0]
)";

/// Riser and limbs of shells: cut-outs in the one, three laminae in the other.
inline const std::string laminated_bow_text =
    replaced(replaced(crossed_bow_text, "elements = 16\n", R"(elements = 16
model = "shell"
shells = 50
shells_across = 5
cut_outs = [
    { from = "60 mm", to = "140 mm", behind = 0.25, front = 0.75 },
    { from = "-6 in", to = "-100 mm", front = 0.5 },
]
)"),
             "material = { youngs_modulus = \"45 GPa\", shear_modulus = \"4 GPa\" }\n", R"(model = "shell"
shells = 30
shells_across = 6
plies = [
    { lamina = "glass", angle = "30 deg", thickness = "0.8 mm" },
    { lamina = "core" },
    { lamina = "carbon", angle = "-0.5 rad", thickness = "0.02 in" },
]
)") +
    R"(
[lamina.glass]
youngs_modulus = "45 GPa"
across = "12 GPa"
poisson = 0.26
shear_modulus = "4.5 GPa"

[lamina.carbon]
youngs_modulus = "130 GPa"
across = "9 GPa"
poisson = 0.3
shear_modulus = "5 GPa"
shear_13 = "4.8 GPa"
shear_23 = "3.1 GPa"

[lamina.core]
youngs_modulus = "3 GPa"
shear_modulus = "1.2 GPa"
)";

/// The top cam's let-out is not needed here, and is there all the same.
inline const std::string yoked_bow_text = replaced(replaced(crossed_bow_text, R"("crossed")", R"("yoked")"),
                                                   "[cables]\n", "[cables]\nyoke_leg = \"4 in\"\n");

inline const std::string bottom_cam_text = R"(
[cam.bottom]
hub = "25.8 mm"

[cam.bottom.string]
circle = { centre = ["4 mm", "8 mm"], radius = "44 mm" }
anchor = "110 deg"

[cam.bottom.take_up]
circle = { centre = ["0 mm", "0 mm"], radius = "27 mm" }
anchor = "-30 deg"
)";

inline const std::string bottom_let_out_text = R"(
[cam.bottom.let_out]
circle = { centre = ["0 mm", "1 mm"], radius = "13 mm" }
anchor = "60 deg"
)";

inline const std::string top_let_out_text = R"([cam.top.let_out]
circle = { centre = ["-1 mm", "0 mm"], radius = "12 mm" }
lateral = "8 mm"
anchor = "-60 deg"
)";

inline const std::string top_take_up_text = R"([cam.top.take_up]
circle = { centre = ["1 mm", "2 mm"], radius = "28 mm" }
lateral = "4 mm"
anchor = "30 deg"
)";

inline const std::string mixed_bow_text =
    replaced(yoked_bow_text, R"("yoked")", R"("mixed")") + bottom_cam_text + bottom_let_out_text;

inline const std::string single_cam_bow_text =
    replaced(without(without(replaced(mixed_bow_text, R"("mixed")", R"("single_cam")"), top_let_out_text),
                     top_take_up_text),
             R"(centre = ["3 mm", "-8 mm"])", R"(centre = ["0 mm", "0 mm"])");

}  // namespace limbwright::models
