#include "models/bow/bow_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>
#include <vector>

#include "models/bow/bow_enum_names.hpp"
#include "models/bow/toml_page.hpp"

namespace limbwright::models {
namespace {

/// Riser or limb.
template <class Part>
void write_model(const Part& part, TomlPage& page) {
    page.key("model", quoted_text(name_of<PartModel>(part.model, part_model_names)),
             "its elements: beam or shell");
    page.key("shells", fmt::format("{}", part.shells), "shell elements along it");
    page.key("shells_across", fmt::format("{}", part.shells_across));
    if (part.mesh) page.key("mesh", quoted_text(part.mesh->file));
}

void write_riser(const Riser& riser, TomlPage& page) {
    page.heading("riser");
    page.key("material", material_text(riser.material));
    page.key("fill", number_text(riser.fill), "share of each section that is metal");
    page.key("elements", fmt::format("{}", riser.elements));
    write_model(riser, page);
    page.line("stations = [", "bottom to top");
    for (const RiserStation& station : riser.stations)
        page.line(fmt::format("    {{ at = {}, width = {}, depth = {} }},", point_text(station.position),
                              length_text(station.width), length_text(station.depth)));
    page.line("]");
    if (riser.cut_outs.empty()) return;
    page.line("cut_outs = [", "between two heights; shares of the depth, 0 at the archer's side");
    for (const CutOut& cut : riser.cut_outs)
        page.line(fmt::format("    {{ from = {}, to = {}, behind = {}, front = {} }},", length_text(cut.from),
                              length_text(cut.to), number_text(cut.behind), number_text(cut.front)));
    page.line("]");
}

void write_pocket(const Pocket& pocket, std::string_view key, TomlPage& page) {
    page.heading(key);
    page.key("position", point_text(pocket.position), "of the limbs' roots");
    page.key("angle", angle_text(pocket.angle),
             "of the limb's root toward the archer, limb bolt at zero turns");
    page.key("angle_per_turn", angle_text(pocket.angle_per_turn), "of the limb bolt, out; raises the angle");
    if (pocket.bending_stiffness)
        page.key("bending_stiffness", quantity_text(*pocket.bending_stiffness, units::turn_rate));
    if (pocket.twisting_stiffness)
        page.key("twisting_stiffness", quantity_text(*pocket.twisting_stiffness, units::turn_rate));
}

struct NamedLamina {
    std::string name;
    const solver::Lamina* lamina;
};

bool same(const solver::Lamina& a, const solver::Lamina& b) {
    const auto constants = [](const solver::Lamina& l) {
        return std::array{l.along, l.across, l.poisson, l.shear, l.shear_13, l.shear_23};
    };
    return constants(a) == constants(b);
}

/// The lamina of each ply. One without a name, or whose name another lamina has, gets one.
std::vector<NamedLamina> named_laminae(const std::vector<LimbPly>& plies) {
    std::vector<NamedLamina> named;
    for (const LimbPly& ply : plies) {
        std::string name = ply.lamina_name.empty() ? "lamina" : ply.lamina_name;
        const auto taken = [&](const NamedLamina& n) {
            return n.name == name && !same(*n.lamina, ply.lamina);
        };
        while (std::ranges::any_of(named, taken)) name += "_";
        named.push_back({name, &ply.lamina});
    }
    return named;
}

void write_plies(const std::vector<LimbPly>& plies, TomlPage& page) {
    const std::vector<NamedLamina> named = named_laminae(plies);
    page.line("plies = [", "from the target's side to the archer's; angles from the length toward the left");
    for (std::size_t i = 0; i < plies.size(); ++i)
        page.line(fmt::format("    {{ lamina = {}, angle = {}{} }},", quoted_text(named[i].name),
                              angle_text(plies[i].angle),
                              plies[i].thickness ? ", thickness = " + length_text(*plies[i].thickness) : ""));
    page.line("]");
    for (auto ply = named.begin(); ply != named.end(); ++ply) {
        if (std::any_of(named.begin(), ply, [&](const NamedLamina& n) { return n.name == ply->name; }))
            continue;
        const solver::Lamina& lamina = *ply->lamina;
        page.heading("lamina." + key_text(ply->name));
        page.key("youngs_modulus", quantity_text(lamina.along, units::stress), "along its fibres");
        page.key("across", quantity_text(lamina.across, units::stress));
        page.key("poisson", number_text(lamina.poisson), "contraction across per strain along");
        page.key("shear_modulus", quantity_text(lamina.shear, units::stress), "in its plane");
        page.key("shear_13", quantity_text(lamina.shear_13, units::stress), "through its thickness, along");
        page.key("shear_23", quantity_text(lamina.shear_23, units::stress), "through its thickness, across");
    }
}

void write_limb(const Limb& limb, TomlPage& page) {
    page.heading("limb");
    page.key("kind", quoted_text(name_of<LimbKind>(limb.kind, limb_kind_names)));
    page.key("length", length_text(limb.length), "along the centre line, root to axle");
    page.line("stations = [", "0 at the root, 1 at the axle");
    for (const LimbStation& station : limb.stations)
        page.line(fmt::format("    {{ at = {}, width = {}, thickness = {}, curvature = {} }},",
                              number_text(station.at), length_text(station.width),
                              length_text(station.thickness),
                              quantity_text(station.curvature, units::curvature)));
    page.line("]");
    if (limb.material.along != 0) page.key("material", material_text(limb.material));
    if (limb.spring_rate)
        page.key("spring_rate", quantity_text(*limb.spring_rate, units::spring_rate),
                 "of one limb, measured at its tip");
    page.key("reference_number", number_text(limb.reference_number),
             "deflection number of the limb described here");
    page.key("lateral", length_text(limb.lateral), "centre line of a limb or prong from the bow's plane");
    if (limb.fork != 0) page.key("fork", length_text(limb.fork), "length of the forked part at the tip");
    if (limb.prong_width != 0) page.key("prong_width", length_text(limb.prong_width));
    page.key("bore_offset", length_text(limb.bore_offset),
             "axle's centre from the centre line, toward the archer");
    page.key("strain_allowable", number_text(limb.strain_allowable), "outer fibre");
    page.key("elements", fmt::format("{}", limb.elements));
    write_model(limb, page);
    page.key("warping", quoted_text(name_of<Warping>(limb.warping, warping_names)),
             "whether pocket and bore hold a twisted limb of beams flat at its ends: \"held\" or \"free\"");
    if (!limb.plies.empty()) write_plies(limb.plies, page);
}

TomlPage axle_page(const Axle& axle) {
    TomlPage page;
    page.key("diameter", length_text(axle.diameter));
    page.key("length", length_text(axle.length), "end to end");
    page.key("material", material_text(axle.material));
    page.key("stress_allowable", quantity_text(axle.stress_allowable, units::stress), "in bending");
    return page;
}

void write_axles(const Bow& bow, TomlPage& page) {
    const TomlPage top = axle_page(bow.axle_top), bottom = axle_page(bow.axle_bottom);
    const bool same = top.text() == bottom.text();
    page.heading(same ? "axle" : "axle.top");
    page.add(top);
    if (same) return;
    page.heading("axle.bottom");
    page.add(bottom);
}

void write_guide(const Guide& guide, TomlPage& page) {
    page.heading("guide", "of the cables, on the riser");
    page.key("kind", quoted_text(name_of<GuideKind>(guide.kind, guide_kind_names)));
    page.key("position", point_text(guide.position),
             "of the middle between the cables, guide_lateral at zero");
    page.key("spacing", length_text(guide.spacing),
             "positive: the cable of the top cam's take-up stands left");
    if (guide.rod_length != 0) page.key("rod_length", length_text(guide.rod_length), "riser to slide");
    if (guide.rod_diameter != 0) page.key("rod_diameter", length_text(guide.rod_diameter));
    if (guide.rod_material.along != 0) page.key("rod_material", material_text(guide.rod_material));
}

void write_cables(const Cables& cables, TomlPage& page) {
    page.heading("cables");
    page.key("string_stiffness", quantity_text(cables.string_stiffness, units::force),
             "EA: force per unit strain");
    page.key("cable_stiffness", quantity_text(cables.cable_stiffness, units::force));
    page.key("diameter", length_text(cables.diameter));
    if (cables.yoke_leg != 0)
        page.key("yoke_leg", length_text(cables.yoke_leg), "natural length of each leg");
    page.key("shortening_per_turn", length_text(cables.shortening_per_turn), "by one turn of twist");
    if (cables.string_above)
        page.key("string_above", length_text(*cables.string_above),
                 "natural, nocking point to the post above");
    if (cables.string_below) page.key("string_below", length_text(*cables.string_below));
    if (!cables.cables.empty())
        page.key("natural_lengths", lengths_text(cables.cables),
                 "without yoke legs, top cam's take-up first");
    if (cables.string_mass)
        page.key("string_mass", quantity_text(*cables.string_mass, units::line_mass), "per length");
    if (cables.cable_mass) page.key("cable_mass", quantity_text(*cables.cable_mass, units::line_mass));
}

void write_brace(const Brace& brace, TomlPage& page) {
    if (brace.axle_to_axle == 0) return;
    page.heading("brace", "as measured on the strung bow");
    page.key("axle_to_axle", length_text(brace.axle_to_axle));
    page.key("nocking_point_height", length_text(brace.nocking_point_height), "above the pivot point");
    if (brace.brace_height)
        page.key("brace_height", length_text(*brace.brace_height), "pivot point to string");
    page.key("mark_top", angle_text(brace.mark_top),
             "turn of the cam from its drawn pose, in the sense of the draw");
    page.key("mark_bottom", angle_text(brace.mark_bottom));
}

void write_shooter(const Shooter& shooter, TomlPage& page) {
    page.heading("shooter");
    page.key("hand", quoted_text(name_of<Hand>(shooter.hand, hand_names)));
    page.key("rest", point_text(shooter.rest), "arrow rest, where the shaft lies on it");
    page.key("vane_radius", length_text(shooter.vane_radius));
    if (shooter.draw_length)
        page.key("draw_length", length_text(*shooter.draw_length),
                 "pivot point to nock groove, plus 1.75 in");
    page.key("states", fmt::format("{}", shooter.states), "brace and full draw included");
}

void write_layout(const Layout& layout, TomlPage& page) {
    page.heading("layout", "what a rebuild can change; left and right are the archer's");
    page.key("guide_lateral", length_text(layout.guide_lateral), "positive left");
    page.key("guide_angle", angle_text(layout.guide_angle), "about Z, positive from X toward Y");
    page.key("bolts",
             fmt::format("{{ top = {}, bottom = {} }}", number_text(layout.bolt_top),
                         number_text(layout.bolt_bottom)),
             "turns out");
    page.key("hand_torque",
             fmt::format("{{ yaw = {}, pitch = {} }}", quantity_text(layout.hand_yaw_torque, units::torque),
                         quantity_text(layout.hand_pitch_torque, units::torque)),
             "of the hand on the grip");
    page.heading("layout.pairing", "deflection number of the limb in each pocket");
    page.key("top_left", number_text(layout.pairing.top_left));
    page.key("top_right", number_text(layout.pairing.top_right));
    page.key("bottom_left", number_text(layout.pairing.bottom_left));
    page.key("bottom_right", number_text(layout.pairing.bottom_right));
    page.heading("layout.spacers", "left and right of each cam");
    const auto stacks = [](const SpacerStacks& s) {
        return fmt::format("{{ left = {}, right = {} }}", lengths_text(s.left), lengths_text(s.right));
    };
    page.key("top", stacks(layout.spacers_top));
    page.key("bottom", stacks(layout.spacers_bottom));
    page.heading("layout.twists", "turns of twist added; cables and yokes in the order of the cables");
    const auto pair = [](const std::array<double, 2>& p) {
        return fmt::format("[{}, {}]", number_text(p[0]), number_text(p[1]));
    };
    page.key("string", number_text(layout.twist_string));
    page.key("cables", pair(layout.twist_cables));
    page.key("yoke_left", pair(layout.twist_yoke_left));
    page.key("yoke_right", pair(layout.twist_yoke_right));
}

/// What the layout moves stands in the file where it was moved to.
Bow with_nothing_moved(Bow bow) {
    const double up = std::exchange(bow.layout.nocking_point, 0);
    bow.brace.nocking_point_height += up;
    if (bow.cables.string_above) *bow.cables.string_above -= up;
    if (bow.cables.string_below) *bow.cables.string_below += up;
    bow.layout.moved.clear();
    return bow;
}

}  // namespace

std::string bow_to_toml(const Bow& today) {
    const Bow bow = with_nothing_moved(today);
    TomlPage page;
    page.line("", "Axes: from the grip's pivot point, X toward the target, Y to the archer's left, Z up.");
    page.key("name", quoted_text(bow.name));
    if (!bow.story.empty()) page.key("story", quoted_text(bow.story));
    page.key("cable_system", quoted_text(name_of<CableSystem>(bow.cables.system, cable_system_names)));
    write_riser(bow.riser, page);
    write_pocket(bow.pocket_top, "pocket.top", page);
    write_pocket(bow.pocket_bottom, "pocket.bottom", page);
    write_limb(bow.limb, page);
    write_axles(bow, page);
    page.heading("tips", "of the limbs");
    if (bow.gap) page.key("gap", length_text(*bow.gap), "between their inside faces");
    page.key("play", length_text(bow.play), "spacers and hub may fill the gap up to this");
    write_cams(bow, page);
    write_guide(bow.guide, page);
    write_cables(bow.cables, page);
    write_brace(bow.brace, page);
    write_shooter(bow.shooter, page);
    write_layout(bow.layout, page);
    return page.text();
}

}  // namespace limbwright::models
