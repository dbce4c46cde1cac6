// The numbers and pictures of cam_lean_study.md.
//
//     cam_lean_study FOLDER_OF_BOWS OUTPUT_FOLDER

#include <fmt/format.h>

#include <cstdio>

#include "examples/cam_lean_study_by_hand.hpp"
#include "examples/cam_lean_study_models.hpp"
#include "examples/cam_lean_study_sketch.hpp"
#include "examples/cam_lean_study_tools.hpp"
#include "examples/cam_lean_study_yoke.hpp"
#include "models/bow/bow_file.hpp"

namespace cam_lean_study {
namespace {

using limbwright::postproc::write_whole_file;
using std::filesystem::path;

constexpr double much = 1000;  ///< times as stiff counts as rigid

/// Lean of the top cam at brace, peak and full draw, then of the bottom cam.
std::vector<Column> six_leans() {
    std::vector<Column> columns;
    for (const End end : ends)
        for (const char* place : place_names)
            columns.push_back({std::string(name(end)) + ", " + place, "deg", "cam lean, positive left", 3});
    return columns;
}
std::vector<double> six_leans(const Solved& run) {
    std::vector<double> values;
    for (const End end : ends)
        for (const Place place : places) values.push_back(lean(run, end, place));
    return values;
}

void stiffen(Material& material, double by) {
    material.along *= by;
    material.shear *= by;
}

/// The bow's own numbers that the text uses.
void the_bow(const Solved& run, const path& out) {
    const Bow& bow = run.strung.bow.bow;
    Rows given("the_bow", "The bow of the study", "", {{"value", "", "", 2}});
    const LimbStation &root = bow.limb.stations.front(), &tip = bow.limb.stations.back();
    for (const auto& [what, value] : std::initializer_list<std::pair<const char*, double>>{
             {"limb, length L [mm]", bow.limb.length},
             {"limb, width b [mm]", root.width},
             {"limb, thickness at the root [mm]", root.thickness},
             {"limb, thickness at the tip [mm]", tip.thickness},
             {"limb, Young's modulus E [GPa]", bow.limb.material.along * 1e-3},
             {"limb, shear modulus G [GPa]", bow.limb.material.shear * 1e-3},
             {"limb tip from the bow's plane a [mm]", bow.limb.lateral},
             {"axle, diameter [mm]", bow.axle_top.diameter},
             {"string track from the hub [mm]", bow.cam_top.string.lateral},
             {"take-up track from the hub [mm]", bow.cam_top.take_up->lateral},
             {"let-out track from the hub [mm]", bow.cam_top.let_out->lateral},
             {"guide from the bow's plane [mm]", bow.guide.position.y()}})
        given.add(what, {value});
    given.write(out);
}

/// Chapter 1: the loads on a cam, the estimate by hand, and what remains when parts are made rigid.
void why_a_cam_leans(const Bow& bow, const Solved& run, double peak_draw, const path& out) {
    const AssembledBow& made = run.strung.bow;
    const HandStiffness k = hand_stiffness(made);
    Rows states("states", "The three states", "",
                {{"draw", "mm", "", 1}, {"draw force", "N", "", 1}, {"guide side force", "N", "", 1}});
    for (const Place place : places)
        states.add(place_names[place], {measured(run, "draw", place), measured(run, "draw force", place),
                                        measured(run, "guide side force", place)});
    states.write(out);

    Rows rates("rates", "What resists", "", {{"value", "", "", 2}});
    rates.add("flatwise rate of a limb k_f [N/mm]", {k.flatwise});
    rates.add("sideways rate of a limb k_s [N/mm]", {k.sideways});
    rates.add("twist rate of a limb k_t [N m/rad]", {k.twist * 1e-3});
    rates.add("two limbs in twist, 2 k_t [N m/rad]", {k.of_twist * 1e-3});
    rates.add("flatwise difference, 2 a² k_f [N m/rad]", {k.of_difference * 1e-3});
    rates.add("axle in bending, 2 EI/a [N m/rad]", {k.of_axle * 1e-3});
    rates.add("all together, K [N m/rad]", {k.total * 1e-3});
    rates.add("share of twist in the limbs' part [%]", {100 * k.of_twist / (k.of_twist + k.of_difference)});
    rates.add("λ, arm of a side force over w", {k.arm_share});
    rates.write(out);

    Rows bodies("free_body", "Free body of cam and axle", "",
                {{"across the tips P", "N", "", 1},
                 {"side force F", "N", "", 1},
                 {"moment M", "N mm", "", 0},
                 {"tip deflection w", "mm", "", 1}});
    Rows hand("by_hand", "Cam lean by hand", "",
              {{"moment", "deg", "", 3},
               {"unlike limbs", "deg", "", 3},
               {"side force", "deg", "", 3},
               {"by hand", "deg", "", 3},
               {"engine", "deg", "", 3},
               {"by hand less engine", "deg", "", 3}});
    for (const End end : ends)
        for (const Place place : places) {
            const std::string where = std::string(name(end)) + ", " + place_names[place];
            const FreeBody body = free_body(made, end, run.draw.states[place].state, k);
            bodies.add(where, {body.across, body.side, body.moment, body.deflection});
            const HandLean by = hand_lean(made, end, body, k);
            const double engine = lean(run, end, place);
            hand.add(where, {by.moment, by.unlike, by.side, by.sum(), engine, by.sum() - engine});
        }
    bodies.write(out);
    hand.write(out);

    Bow axle = bow, riser = bow, twist = bow, alike = bow, flat = bow;
    for (Axle* a : {&axle.axle_top, &axle.axle_bottom}) stiffen(a->material, much);
    stiffen(riser.riser.material, much);
    twist.limb.material.shear *= much;
    Bow all = twist;
    all.axle_top = all.axle_bottom = axle.axle_top;
    all.riser = riser.riser;
    alike.layout.pairing = {50, 50, 50, 50};
    Bow tracks = alike, guide = alike;
    for (Cam* cam : {&tracks.cam_top, &tracks.cam_bottom})
        cam->string.lateral = cam->take_up->lateral = cam->let_out->lateral = 0;
    guide.guide.position.y() = guide.guide.spacing = 0;
    flat = tracks;
    flat.guide = guide.guide;
    const std::vector<std::pair<const char*, Bow>> variants{{"as it is", bow},
                                                            {"axles rigid", axle},
                                                            {"riser rigid", riser},
                                                            {"limbs rigid in twist", twist},
                                                            {"all three rigid", all},
                                                            {"limbs alike", alike},
                                                            {"alike, tracks in the middle", tracks},
                                                            {"alike, cables not held aside", guide},
                                                            {"alike, both", flat}};
    Rows off("switched_off", "Cam lean with parts made rigid and loads taken away", "", six_leans());
    for (const auto& [what, variant] : variants) off.add(what, six_leans(solved(variant, peak_draw)));
    off.write(out);

    const Solved whole = solved(bow, std::nullopt);
    const std::vector<double> x = over_draw(whole, "draw");
    Plot plot{.title = "Cam lean by the engine and by hand",
              .panels = {},
              .panels_across = 2,
              .panel_width = 480,
              .panel_height = 340};
    for (const End end : ends) {
        Curve engine{"engine", x, over_draw(whole, std::string("cam lean, ") + name(end))};
        Curve by_hand{"by hand", x, {}}, alone{"by hand, moment alone", x, {}};
        for (const DrawState& state : whole.draw.states) {
            const AssembledBow& b = whole.strung.bow;
            const HandLean by = hand_lean(b, end, free_body(b, end, state.state, k), k);
            by_hand.y.push_back(by.sum());
            alone.y.push_back(by.moment);
        }
        plot.panels.push_back({std::string(name(end)) + " cam",
                               {"draw", "mm"},
                               {"cam lean, positive left", "deg"},
                               {engine, by_hand, alone}});
    }
    write_picture(out, "by_hand", plot);
}

/// Chapter 4: limbs that are softer or stiffer in twist alone.
void torsional_stiffness(const Bow& bow, double peak_draw, const path& out) {
    Rows rows("torsion", "Shear modulus of the limbs", "",
              {{"E/G", "", "", 2},
               {"twist rate", "N m/deg", "", 3},
               {"peak, draw force", "N", "", 1},
               {"peak, lean, top", "deg", "", 3},
               {"full draw, lean, top", "deg", "", 3},
               {"full draw, lean, bottom", "deg", "", 3},
               {"full draw, forgiveness", "deg/(N m)", "", 4}});
    Curve top{"top", {}, {}}, bottom{"bottom", {}, {}}, forgiveness{"", {}, {}};
    for (const double factor : {0.5, 0.7, 1.0, 1.4, 2.0, 2.8, 4.0}) {
        Bow variant = bow;
        variant.limb.material.shear *= factor;
        const Solved run = solved(variant, peak_draw);
        const double rate = limb_rates(run.strung.bow).twist * 1e-3;
        const double yaw = measured(run, "forgiveness, arrow yaw", full);
        const Material& m = variant.limb.material;
        rows.add(fmt::format("G × {:.1f}", factor),
                 {m.along / m.shear, rate, measured(run, "draw force", peak), lean(run, End::top, peak),
                  lean(run, End::top, full), lean(run, End::bottom, full), yaw});
        for (Curve* curve : {&top, &bottom, &forgiveness}) curve->x.push_back(rate);
        top.y.push_back(lean(run, End::top, full));
        bottom.y.push_back(lean(run, End::bottom, full));
        forgiveness.y.push_back(yaw);
    }
    rows.write(out);
    write_picture(
        out, "torsion",
        {.title = "Influence of the limbs' twist rate",
         .panels =
             {{"cam lean at full draw", {"twist rate of a limb", "N m/deg"}, {"lean", "deg"}, {top, bottom}},
              {"arrow yaw per hand torque at full draw",
               {"twist rate of a limb", "N m/deg"},
               {"forgiveness", "deg/(N m)", 0.05},
               {forgiveness}}},
         .panels_across = 2,
         .panel_width = 480,
         .panel_height = 340});
}

void study(const path& bows, const path& out) {
    std::filesystem::create_directories(out);
    const Bow crossed = read_bow(bows / "crossed.toml"), yoked = read_bow(bows / "yoked.toml");
    const Solved whole = solved(crossed, std::nullopt);
    const auto pulls_most = std::max_element(whole.draw.states.begin(), whole.draw.states.end(),
                                             [](const auto& a, const auto& b) { return a.force < b.force; });
    const double peak_draw = std::round(pulls_most->draw);
    const Solved base = solved(crossed, peak_draw);

    the_bow(base, out);
    write_whole_file(out / "cam_lean_study_free_body.svg", free_body_sketch());
    why_a_cam_leans(crossed, base, peak_draw, out);
    beam_and_shell(crossed, peak_draw, out);
    const Extrapolated shells_twist = convergence(crossed, out);
    held_ends(crossed, shells_twist.limit, out);
    torsional_stiffness(crossed, peak_draw, out);
    what_a_yoke_does(crossed, yoked, peak_draw, out);
}

}  // namespace
}  // namespace cam_lean_study

int main(int argument_count, char** arguments) {
    if (argument_count != 3)
        return std::fprintf(stderr, "usage: cam_lean_study FOLDER_OF_BOWS OUTPUT_FOLDER\n"), 2;
    try {
        cam_lean_study::study(arguments[1], arguments[2]);
        return 0;
    } catch (const std::exception& error) {
        return std::fprintf(stderr, "%s\n", error.what()), 1;
    }
}
