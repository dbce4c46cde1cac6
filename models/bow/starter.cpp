#include "models/bow/starter.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <string_view>

#include "models/bow/bow_enum_names.hpp"
#include "models/bow/toml_page.hpp"
#include "models/input/input_error.hpp"
#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

using units::degree;

/// A groove that is a circle, for the power stroke of the guesses [mm, degrees].
struct Wheel {
    Vec2 centre;
    double radius;
    double lateral;  // for a right-handed bow
    double anchor;
};

/// All that the starter file guesses. The grooves and the limbs' rate belong together: with limbs as springs
/// that move straight across their roots, they give about the peak weight asked for, a peak near mid-draw,
/// and a quarter of it held after some 205 degrees of turn.
struct Guesses {
    double pocket_angle = 50 * degree;
    double brace_deflection =
        0.15;                   // of the limb's tip at brace, by its length; its curvature at rest undoes it
    double spring_rate = 22.3;  // of one limb, by peak weight over limb length
    double stroke = 20.25 * units::inch;  // power stroke for which the grooves below are made [mm]
    Wheel string{{19.4, 19.2}, 45.5, 4, -120};
    Wheel take_up{{7.5, 0.4}, 27.7, 0, 40};
    Wheel let_out{{0, -4.2}, 18.9, -5, -60};
    double hub = 24;    // [mm]
    double gap = 32;    // between the limb tips [mm]
    double play = 0.2;  // [mm]
    double reference_number = 50;
};

void require_within(double value, double low, double high, std::string_view key, const Dimension& dimension,
                    Complaints& complaints) {
    if (value >= low && value <= high) return;
    complaints.add(std::string(key),
                   fmt::format("must lie between {} and {}", shown(low, dimension), shown(high, dimension)),
                   shown(value, dimension));
}

/// Height of the pockets over the pivot point: what limbs that lie about straight at brace leave [mm].
double pocket_height(const BenchNumbers& bench, const Guesses& guess) {
    return bench.axle_to_axle / 2 - bench.limb_length * std::cos(guess.pocket_angle);
}

void check(const BenchNumbers& bench, const Guesses& guess) {
    constexpr double shortest_half_riser = 80;  // a hand and two pockets
    Complaints complaints([](std::string_view) { return Place{}; });
    const auto within = [&](double value, double low, double high, std::string_view key) {
        require_within(value, low, high, key, units::length, complaints);
    };
    within(bench.axle_to_axle, 400, 1500, "axle_to_axle");
    within(bench.brace_height, 80, 350, "brace_height");
    within(bench.draw_length, 300, 1000, "draw_length");
    require_within(bench.peak_weight, 20, 600, "peak_weight", units::force, complaints);
    within(bench.limb_length, 120, 800, "limb_length");
    within(bench.limb_width_root, 8, 60, "limb_width_root");
    within(bench.limb_width_tip, 8, 60, "limb_width_tip");
    within(bench.limb_thickness_root, 2, 25, "limb_thickness_root");
    within(bench.limb_thickness_tip, 2, 25, "limb_thickness_tip");
    if (!complaints.about("brace_height") && !complaints.about("draw_length")) {
        const double shortest = bench.brace_height + draw_length_beyond_pivot + 100;
        if (!(bench.draw_length >= shortest))
            complaints.add("draw_length",
                           "must leave a power stroke: at least " + shown(shortest, units::length),
                           shown(bench.draw_length, units::length));
    }
    if (!complaints.about("axle_to_axle") && !complaints.about("limb_length") &&
        !(pocket_height(bench, guess) >= shortest_half_riser))
        complaints.add(
            "limb_length",
            fmt::format("must leave room for a riser in an axle-to-axle of {}: at most {}",
                        shown(bench.axle_to_axle, units::length),
                        shown((bench.axle_to_axle / 2 - shortest_half_riser) / std::cos(guess.pocket_angle),
                              units::length)),
            shown(bench.limb_length, units::length));
    complaints.finish();
}

std::string tenths(double value) {
    return length_text(std::round(10 * value) / 10);
}

std::string tenths(double x, double y, double z) {
    return fmt::format("[{}, {}, {}]", tenths(x), tenths(y), tenths(z));
}

void write_wheel(std::string_view name, const Wheel& wheel, double scale, double right, TomlPage& page) {
    page.heading(fmt::format("cam.top.{}", name));
    page.key("circle",
             fmt::format("{{ centre = [{}, {}], radius = {} }}", tenths(scale * wheel.centre.x()),
                         tenths(scale * wheel.centre.y()), tenths(scale * wheel.radius)),
             "guess");
    page.key("lateral", tenths(right * wheel.lateral),
             "guess; of the groove from the hub's middle, positive left");
    page.key("anchor", angle_text(wheel.anchor * degree),
             "guess; where the post ends the groove, from U toward V");
}

void write_riser(double reach, double height, double right, TomlPage& page) {
    page.heading("riser");
    page.key("material", R"({ youngs_modulus = "70 GPa", shear_modulus = "26 GPa" })", "guess: aluminium");
    page.key("fill", "0.5", "guess; share of each section that is metal");
    page.line("stations = [", "guesses, but for the height; bottom to top");
    const auto station = [&](double x, double y, double z, double width, double depth) {
        page.line(fmt::format("    {{ at = {}, width = {}, depth = {} }},", tenths(x, right * y, z),
                              tenths(width), tenths(depth)));
    };
    station(reach, 0, -height, 42, 45);
    station(20 + reach / 4, 0, -height / 2, 34, 45);
    station(20, 0, 0, 28, 40);
    station(20 + reach / 4, -12, height / 3, 28, 55);
    station(20 + reach / 2, -10, height * 2 / 3, 30, 50);
    station(reach, 0, height, 42, 45);
    page.line("]");
}

void write_pockets(double reach, double height, const Guesses& guess, TomlPage& page) {
    for (const double end : {1.0, -1.0}) {
        page.heading(end > 0 ? "pocket.top" : "pocket.bottom");
        page.key("position", tenths(reach, 0, end * height),
                 "guess, from axle-to-axle, brace height and limb length");
        page.key("angle", angle_text(guess.pocket_angle), "guess; of the limb's root toward the archer");
        page.key("angle_per_turn", "\"0.8 deg\"", "guess; of the limb bolt, out");
    }
}

void write_limb(const BenchNumbers& bench, const Guesses& guess, double rate_share, TomlPage& page) {
    const double curvature = 2 * guess.brace_deflection / bench.limb_length;
    const double rate = rate_share * guess.spring_rate * bench.peak_weight / bench.limb_length;
    const std::string curve = fmt::format("\"{:.3g} 1/m\"", 1000 * curvature);
    page.heading("limb");
    page.key("kind", "\"split\"");
    page.key("length", length_text(bench.limb_length), "bench");
    page.line("stations = [", "widths and thicknesses: bench; curvatures at rest: guess");
    page.line(fmt::format("    {{ at = 0, width = {}, thickness = {}, curvature = {} }},",
                          length_text(bench.limb_width_root), length_text(bench.limb_thickness_root), curve));
    page.line(fmt::format("    {{ at = 1, width = {}, thickness = {}, curvature = {} }},",
                          length_text(bench.limb_width_tip), length_text(bench.limb_thickness_tip), curve));
    page.line("]");
    page.key("spring_rate", fmt::format("\"{:.5g} N/mm\"", rate),
             "guess, from the peak weight; better measured");
    page.key("reference_number", number_text(guess.reference_number), "guess; the limbs' deflection number");
    page.key("lateral", length_text((guess.gap + bench.limb_width_tip) / 2),
             "guess; one limb from the bow's plane");
    page.key("bore_offset", "\"0 mm\"", "guess");
    page.key("strain_allowable", "0.012", "guess");
}

void write_axle_and_tips(const BenchNumbers& bench, const Guesses& guess, TomlPage& page) {
    page.heading("axle");
    page.key("diameter", "\"4.8 mm\"", "guess");
    page.key("length", length_text(guess.gap + 2 * bench.limb_width_tip + 6), "guess");
    page.key("material", R"({ youngs_modulus = "205 GPa", shear_modulus = "79 GPa" })", "guess: steel");
    page.key("stress_allowable", "\"1200 MPa\"", "guess");
    page.heading("tips", "of the limbs");
    page.key("gap", length_text(guess.gap), "guess; between their inside faces");
    page.key("play", length_text(guess.play), "guess; spacers and hub may fill the gap up to this");
}

void write_cams(double scale, double right, const Guesses& guess, TomlPage& page) {
    page.line("");
    page.line("", "The cams: all guesses, round wheels; trace your own grooves to replace them.");
    page.line("", "As seen from the archer's right at brace: U toward the target, V up, from the axle.");
    page.line("", "The bottom cam is the top cam's mirror image unless a [cam.bottom] says otherwise.");
    page.heading("cam.top");
    page.key("hub", length_text(guess.hub), "guess; fills the gap together with the spacers");
    write_wheel("string", guess.string, scale, right, page);
    write_wheel("take_up", guess.take_up, scale, right, page);
    write_wheel("let_out", guess.let_out, scale, right, page);
}

void write_guide_cables_and_brace(const BenchNumbers& bench, double axle, double right, TomlPage& page) {
    constexpr double riser_front = 20;  // where the rod stands on the riser
    page.heading("guide", "of the cables");
    page.key("kind", "\"rod\"", "guess; or rollers, bending_rod, none");
    page.key("position", tenths(axle, right * -20, 60), "guess; where the cables cross");
    page.key("spacing", tenths(right * 6), "guess; positive: the cable of the top cam's take-up stands left");
    page.key("rod_length", tenths(riser_front - axle), "guess; riser to slide");
    page.heading("cables");
    page.key("string_stiffness", "\"250 kN\"", "guess; force per unit strain");
    page.key("cable_stiffness", "\"250 kN\"", "guess");
    page.key("shortening_per_turn", "\"0.15 mm\"", "guess");
    page.heading("brace", "as measured on the strung bow");
    page.key("axle_to_axle", length_text(bench.axle_to_axle), "bench");
    page.key("nocking_point_height", "\"0 mm\"", "guess; above the grip's pivot point");
    page.key("brace_height", length_text(bench.brace_height), "bench");
}

void write_shooter_and_layout(const BenchNumbers& bench, const Guesses& guess, TomlPage& page) {
    page.heading("shooter");
    page.key("hand", quoted_text(name_of<Hand>(bench.hand, hand_names)));
    page.key("rest", tenths(30, 0, 0), "guess; arrow rest");
    page.key("vane_radius", "\"12 mm\"", "guess");
    page.key("draw_length", length_text(bench.draw_length), "bench");
    page.heading("layout.pairing", "guesses: read the numbers off your limbs");
    for (const char* pocket : {"top_left", "top_right", "bottom_left", "bottom_right"})
        page.key(pocket, number_text(guess.reference_number));
    page.heading("layout.spacers", "guesses: left and right of each cam, as the archer sees them");
    const double thin = 1, stack = (guess.gap - guess.hub) / 2;  // two in each, so that there is one to move
    for (const char* end : {"top", "bottom"})
        page.key(end, fmt::format("{{ left = {0}, right = {0} }}", lengths_text({thin, stack - thin})));
}

}  // namespace

std::string starter_bow(const BenchNumbers& numbers, double rate_share) {
    const Guesses guess;
    BenchNumbers bench = numbers;
    if (bench.limb_width_tip == 0) bench.limb_width_tip = bench.limb_width_root;
    check(bench, guess);
    const double right = bench.hand == Hand::right ? 1 : -1;
    const double scale = (bench.draw_length - draw_length_beyond_pivot - bench.brace_height) / guess.stroke;
    const double height = pocket_height(bench, guess);
    // At brace the string hangs straight down from the cam, and the limb's tip lies on the line of its root.
    const double string_to_axle = scale * (guess.string.radius - guess.string.centre.x());
    const double axle = string_to_axle - bench.brace_height;
    const double reach = axle + bench.limb_length * std::sin(guess.pocket_angle);
    TomlPage page;
    page.line(
        "",
        "A bow to start from. \"bench\" was measured; \"guess\" is a plausible value: replace it by yours.");
    page.line("", "Axes: from the grip's pivot point, X toward the target, Y to the archer's left, Z up.");
    page.key("name", "\"My bow\"");
    page.key("story", fmt::format("\"Starter file; made for a peak weight of {}.\"",
                                  shown(bench.peak_weight, units::force)));
    page.key("cable_system", "\"crossed\"");
    write_riser(reach, height, right, page);
    write_pockets(reach, height, guess, page);
    write_limb(bench, guess, rate_share, page);
    write_axle_and_tips(bench, guess, page);
    write_cams(scale, right, guess, page);
    write_guide_cables_and_brace(bench, axle, right, page);
    write_shooter_and_layout(bench, guess, page);
    return page.text();
}

}  // namespace limbwright::models
