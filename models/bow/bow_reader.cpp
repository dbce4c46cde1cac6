#include "models/bow/bow_reader.hpp"

#include <algorithm>

#include "models/bow/bow_checks.hpp"
#include "models/bow/bow_enum_names.hpp"
#include "models/bow/cam_reader.hpp"
#include "models/bow/limb_reader.hpp"
#include "models/bow/part_reader.hpp"
#include "models/bow/track_groove.hpp"
#include "models/bow/upside_down_cam.hpp"
#include "models/input/table_reader.hpp"

namespace limbwright::models {
namespace {

using namespace literals;

constexpr Range on_the_bow{.at_least = -1500.0_mm, .at_most = 1500.0_mm};

std::vector<CutOut> cut_outs_in(TableReader& table) {
    constexpr Range share{.at_least = 0, .at_most = 1};
    std::vector<CutOut> cut_outs;
    if (!table.has("cut_outs")) return cut_outs;
    for (TableReader& cut : table.tables("cut_outs"))
        cut_outs.push_back({
            .from = cut.quantity("from", units::length, on_the_bow),
            .to = cut.quantity("to", units::length, on_the_bow),
            .behind = cut.number_or("behind", 0, share),
            .front = cut.number_or("front", 1, share),
        });
    return cut_outs;
}

Riser riser_in(TableReader table, const std::filesystem::path& folder) {
    Riser riser;
    for (TableReader& station : table.tables("stations"))
        riser.stations.push_back({
            .position = station.point("at", on_the_bow),
            .width = station.quantity("width", units::length, {.at_least = 3.0_mm, .at_most = 200.0_mm}),
            .depth = station.quantity("depth", units::length, {.at_least = 3.0_mm, .at_most = 300.0_mm}),
        });
    riser.material = material_in(table.table("material"));
    riser.fill = table.number_or("fill", riser.fill, {.above = 0, .at_most = 1});
    riser.elements = table.whole_number_or("elements", riser.elements, 2, 1000);
    riser.model = part_model_in(table);
    riser.cut_outs = cut_outs_in(table);
    riser.mesh = part_mesh_in(table, riser.model, folder);
    riser.shells = table.whole_number_or("shells", riser.shells, 2, 1000);
    riser.shells_across = table.whole_number_or("shells_across", riser.shells_across, 2, 40);
    return riser;
}

Pocket pocket_in(TableReader table) {
    return {
        .position = table.point("position", on_the_bow),
        .angle = table.quantity("angle", units::angle, {.at_least = -30.0_deg, .at_most = 100.0_deg}),
        .angle_per_turn =
            table.quantity_or("angle_per_turn", 0, units::angle, {.at_least = 0, .at_most = 10.0_deg}),
        .bending_stiffness = table.optional_quantity("bending_stiffness", units::turn_rate, positive),
        .twisting_stiffness = table.optional_quantity("twisting_stiffness", units::turn_rate, positive),
    };
}

Axle axle_in(TableReader table) {
    return {
        .diameter = table.quantity("diameter", units::length, {.at_least = 2.0_mm, .at_most = 20.0_mm}),
        .length = table.quantity("length", units::length, {.at_least = 10.0_mm, .at_most = 200.0_mm}),
        .material = material_in(table.table("material")),
        .stress_allowable = table.quantity("stress_allowable", units::stress, {.above = 0, .at_most = 5000}),
    };
}

void read_axles(TableReader table, Bow& bow) {
    if (table.has("top") || table.has("bottom")) {
        bow.axle_top = axle_in(table.table("top"));
        bow.axle_bottom = axle_in(table.table("bottom"));
    } else {
        bow.axle_top = bow.axle_bottom = axle_in(table);
    }
}

void read_cams(TableReader table, const std::filesystem::path& folder, Complaints& complaints, Bow& bow) {
    const bool idler = bow.cables.system == CableSystem::single_cam;
    bow.cam_top = cam_in(table.table("top"), idler ? CamRole::idler : CamRole::cam, folder, complaints);
    const bool alike = bow.cables.system == CableSystem::crossed || bow.cables.system == CableSystem::yoked;
    TableReader bottom = alike ? table.table_if_any("bottom") : table.table("bottom");
    if (bottom.present()) {
        bow.cam_bottom = cam_in(bottom, CamRole::cam, folder, complaints);
    } else {
        bow.cam_bottom = flipped(bow.cam_top);
        complaints.silence("cam.bottom");  // what is wrong with it is wrong with the top cam
    }
}

Guide guide_in(TableReader table) {
    Guide guide;
    if (!table.present()) return guide;
    guide.kind = table.choice<GuideKind>("kind", guide_kind_names);
    guide.position = guide.kind == GuideKind::none ? table.point_or("position", guide.position, on_the_bow)
                                                   : table.point("position", on_the_bow);
    guide.spacing =
        table.quantity_or("spacing", 0, units::length, {.at_least = -60.0_mm, .at_most = 60.0_mm});
    guide.rod_length = table.quantity_or("rod_length", 0, units::length, {.above = 0, .at_most = 500.0_mm});
    guide.rod_diameter =
        table.quantity_or("rod_diameter", 0, units::length, {.at_least = 2.0_mm, .at_most = 30.0_mm});
    if (TableReader material = table.table_if_any("rod_material"); material.present())
        guide.rod_material = material_in(material);
    return guide;
}

Cables cables_in(TableReader table, CableSystem system) {
    constexpr Range natural{.at_least = 50.0_mm, .at_most = 4000.0_mm};
    Cables cables;
    cables.system = system;
    cables.string_stiffness = table.quantity("string_stiffness", units::force, positive);
    cables.cable_stiffness = table.quantity("cable_stiffness", units::force, positive);
    cables.diameter = table.quantity_or("diameter", cables.diameter, units::length,
                                        {.at_least = 0.5_mm, .at_most = 8.0_mm});
    cables.yoke_leg =
        table.quantity_or("yoke_leg", 0, units::length, {.at_least = 10.0_mm, .at_most = 500.0_mm});
    cables.shortening_per_turn =
        table.quantity_or("shortening_per_turn", 0, units::length, {.at_least = 0, .at_most = 5.0_mm});
    cables.string_above = table.optional_quantity("string_above", units::length, natural);
    cables.string_below = table.optional_quantity("string_below", units::length, natural);
    cables.cables = table.quantities_or_none("natural_lengths", units::length, natural);
    constexpr Range line_mass{.at_least = 0.1e-9, .at_most = 100e-9};
    cables.string_mass = table.optional_quantity("string_mass", units::line_mass, line_mass);
    cables.cable_mass = table.optional_quantity("cable_mass", units::line_mass, line_mass);
    return cables;
}

Brace brace_in(TableReader table) {
    constexpr Range mark{.at_least = -180.0_deg, .at_most = 180.0_deg};
    Brace brace;
    if (!table.present()) return brace;
    brace.axle_to_axle =
        table.quantity("axle_to_axle", units::length, {.at_least = 300.0_mm, .at_most = 1800.0_mm});
    brace.nocking_point_height =
        table.quantity("nocking_point_height", units::length, {.at_least = -200.0_mm, .at_most = 200.0_mm});
    brace.brace_height =
        table.optional_quantity("brace_height", units::length, {.at_least = 50.0_mm, .at_most = 400.0_mm});
    brace.mark_top = table.quantity_or("mark_top", 0, units::angle, mark);
    brace.mark_bottom = table.quantity_or("mark_bottom", 0, units::angle, mark);
    return brace;
}

Shooter shooter_in(TableReader table) {
    Shooter shooter;
    shooter.hand = table.choice<Hand>("hand", hand_names);
    shooter.rest = table.point("rest", {.at_least = -300.0_mm, .at_most = 300.0_mm});
    shooter.vane_radius =
        table.quantity_or("vane_radius", 0, units::length, {.at_least = 0, .at_most = 60.0_mm});
    shooter.draw_length =
        table.optional_quantity("draw_length", units::length, {.at_least = 200.0_mm, .at_most = 1000.0_mm});
    shooter.states = table.whole_number_or("states", shooter.states, 2, 10000);
    return shooter;
}

SpacerStacks stacks_in(TableReader table) {
    constexpr Range spacer{.above = 0, .at_most = 60.0_mm};
    return {
        .left = table.quantities("left", units::length, spacer),
        .right = table.quantities("right", units::length, spacer),
    };
}

std::array<double, 2> pair_in(TableReader& table, std::string_view key) {
    const std::vector<double> turns = table.numbers_or(key, {0, 0}, 2);
    return {turns[0], turns[1]};
}

Layout layout_in(TableReader table) {
    constexpr Range turns{.at_least = 0, .at_most = 30};
    constexpr Range hand{.at_least = -1e5, .at_most = 1e5};
    Layout layout;
    TableReader pairing = table.table("pairing");
    layout.pairing = {
        .top_left = pairing.number("top_left", positive),
        .top_right = pairing.number("top_right", positive),
        .bottom_left = pairing.number("bottom_left", positive),
        .bottom_right = pairing.number("bottom_right", positive),
    };
    TableReader spacers = table.table("spacers");
    layout.spacers_top = stacks_in(spacers.table("top"));
    layout.spacers_bottom = stacks_in(spacers.table("bottom"));
    layout.guide_lateral =
        table.quantity_or("guide_lateral", 0, units::length, {.at_least = -60.0_mm, .at_most = 60.0_mm});
    layout.guide_angle =
        table.quantity_or("guide_angle", 0, units::angle, {.at_least = -60.0_deg, .at_most = 60.0_deg});
    TableReader bolts = table.table_if_any("bolts");
    layout.bolt_top = bolts.number_or("top", 0, turns);
    layout.bolt_bottom = bolts.number_or("bottom", 0, turns);
    TableReader twists = table.table_if_any("twists");
    layout.twist_string = twists.number_or("string", 0);
    layout.twist_cables = pair_in(twists, "cables");
    layout.twist_yoke_left = pair_in(twists, "yoke_left");
    layout.twist_yoke_right = pair_in(twists, "yoke_right");
    TableReader torque = table.table_if_any("hand_torque");
    layout.hand_yaw_torque = torque.quantity_or("yaw", 0, units::torque, hand);
    layout.hand_pitch_torque = torque.quantity_or("pitch", 0, units::torque, hand);
    return layout;
}

}  // namespace

Bow bow_in(Document& document, const std::filesystem::path& folder) {
    TableReader file(document);
    Bow bow;
    bow.name = file.text("name");
    bow.story = file.text_or("story", {});
    const CableSystem system = file.choice<CableSystem>("cable_system", cable_system_names);
    bow.riser = riser_in(file.table("riser"), folder);
    TableReader pocket = file.table("pocket");
    bow.pocket_top = pocket_in(pocket.table("top"));
    bow.pocket_bottom = pocket_in(pocket.table("bottom"));
    bow.limb = limb_in(file.table("limb"), laminae_in(file.table_if_any("lamina")), folder);
    read_axles(file.table("axle"), bow);
    TableReader tips = file.table_if_any("tips");
    bow.gap = tips.optional_quantity("gap", units::length, {.at_least = 5.0_mm, .at_most = 150.0_mm});
    bow.play = tips.quantity_or("play", bow.play, units::length, {.at_least = 0, .at_most = 5.0_mm});
    bow.cables = cables_in(file.table("cables"), system);
    read_cams(file.table("cam"), folder, document.complaints(), bow);
    bow.guide = guide_in(file.table_if_any("guide"));
    bow.brace = brace_in(file.table_if_any("brace"));
    bow.shooter = shooter_in(file.table("shooter"));
    bow.layout = layout_in(file.table("layout"));
    document.complain_about_unknown_keys();
    check(bow, document.complaints());
    // Fitting takes longer than all the rest: grooves of a file with other mistakes wait until those are
    // mended.
    if (document.complaints().all().empty()) {
        const bool alike = document.complaints().about("cam.bottom");
        fit_grooves(bow.cam_top, "cam.top", document.complaints());
        if (alike)
            bow.cam_bottom = flipped(bow.cam_top);
        else
            fit_grooves(bow.cam_bottom, "cam.bottom", document.complaints());
    }
    return bow;
}

}  // namespace limbwright::models
