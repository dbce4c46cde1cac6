#include "models/bow/bow_keys.hpp"

#include "models/bow/bow_enum_names.hpp"
#include "models/bow/cam_keys.hpp"

namespace limbwright::models {
namespace {

using namespace literals;

void describe(PartTable& table, Guide& guide) {
    table.choice<GuideKind>({"kind"}, guide.kind, guide_kind_names);
    Key position{"position", "of the middle between the cables, guide_lateral at zero"};
    position.needed = guide.kind != GuideKind::none;
    table.point(position, guide.position, on_the_bow);
    table.quantity(if_any("spacing", "positive: the cable of the top cam's take-up stands left"),
                   guide.spacing, units::length, {.at_least = -60.0_mm, .at_most = 60.0_mm});
    table.quantity(if_any("rod_length", "riser to slide"), guide.rod_length, units::length,
                   {.above = 0, .at_most = 500.0_mm});
    table.quantity(if_any("rod_diameter"), guide.rod_diameter, units::length,
                   {.at_least = 2.0_mm, .at_most = 30.0_mm});
    table.table(if_any("rod_material", {}, guide.rod_material.along != 0), Form::line,
                [&](PartTable& inner) { describe(inner, guide.rod_material); });
}

void describe(PartTable& table, Cables& cables) {
    constexpr Range natural{.at_least = 50.0_mm, .at_most = 4000.0_mm};
    constexpr Range line_mass{.at_least = 0.1e-9, .at_most = 100e-9};
    table.quantity({"string_stiffness", "EA: force per unit strain"}, cables.string_stiffness, units::force,
                   positive);
    table.quantity({"cable_stiffness"}, cables.cable_stiffness, units::force, positive);
    table.quantity(if_any("diameter"), cables.diameter, units::length,
                   {.at_least = 0.5_mm, .at_most = 8.0_mm});
    table.quantity(if_any("yoke_leg", "natural length of each leg"), cables.yoke_leg, units::length,
                   {.at_least = 10.0_mm, .at_most = 500.0_mm});
    table.quantity(if_any("shortening_per_turn", "by one turn of twist"), cables.shortening_per_turn,
                   units::length, {.at_least = 0, .at_most = 5.0_mm});
    table.quantity(if_any("string_above", "natural, nocking point to the post above"), cables.string_above,
                   units::length, natural);
    table.quantity(if_any("string_below"), cables.string_below, units::length, natural);
    table.quantities(if_any("natural_lengths", "without yoke legs, top cam's take-up first"), cables.cables,
                     units::length, natural);
    table.quantity(if_any("string_mass", "per length"), cables.string_mass, units::line_mass, line_mass);
    table.quantity(if_any("cable_mass"), cables.cable_mass, units::line_mass, line_mass);
}

void describe(PartTable& table, Brace& brace) {
    constexpr Range mark{.at_least = -180.0_deg, .at_most = 180.0_deg};
    table.quantity({"axle_to_axle"}, brace.axle_to_axle, units::length,
                   {.at_least = 300.0_mm, .at_most = 1800.0_mm});
    table.quantity({"nocking_point_height", "above the pivot point"}, brace.nocking_point_height,
                   units::length, {.at_least = -200.0_mm, .at_most = 200.0_mm});
    table.quantity(if_any("brace_height", "pivot point to string"), brace.brace_height, units::length,
                   {.at_least = 50.0_mm, .at_most = 400.0_mm});
    table.quantity(if_any("mark_top", "turn of the cam from its drawn pose, in the sense of the draw"),
                   brace.mark_top, units::angle, mark);
    table.quantity(if_any("mark_bottom"), brace.mark_bottom, units::angle, mark);
}

void describe(PartTable& table, Shooter& shooter) {
    table.choice<Hand>({"hand"}, shooter.hand, hand_names);
    table.point({"rest", "arrow rest, where the shaft lies on it"}, shooter.rest,
                {.at_least = -300.0_mm, .at_most = 300.0_mm});
    table.quantity(if_any("vane_radius"), shooter.vane_radius, units::length,
                   {.at_least = 0, .at_most = 60.0_mm});
    table.quantity(if_any("draw_length", "pivot point to nock groove, plus 1.75 in"), shooter.draw_length,
                   units::length, {.at_least = 200.0_mm, .at_most = 1000.0_mm});
    table.whole_number(if_any("states", "brace and full draw included"), shooter.states, 2, 10000);
}

void describe(PartTable& table, SpacerStacks& stacks) {
    constexpr Range spacer{.above = 0, .at_most = 60.0_mm};
    table.quantities({"left"}, stacks.left, units::length, spacer);
    table.quantities({"right"}, stacks.right, units::length, spacer);
}

void describe(PartTable& table, Layout& layout) {
    constexpr Range turns{.at_least = 0, .at_most = 30}, any{};
    constexpr Range hand{.at_least = -1e5, .at_most = 1e5};
    table.quantity(if_any("guide_lateral", "positive left"), layout.guide_lateral, units::length,
                   {.at_least = -60.0_mm, .at_most = 60.0_mm});
    table.quantity(if_any("guide_angle", "about Z, positive from X toward Y"), layout.guide_angle,
                   units::angle, {.at_least = -60.0_deg, .at_most = 60.0_deg});
    table.table(if_any("bolts", "turns out"), Form::line, [&](PartTable& bolts) {
        bolts.number(if_any("top"), layout.bolt_top, turns);
        bolts.number(if_any("bottom"), layout.bolt_bottom, turns);
    });
    table.table(if_any("hand_torque", "of the hand on the grip"), Form::line, [&](PartTable& torque) {
        torque.quantity(if_any("yaw"), layout.hand_yaw_torque, units::torque, hand);
        torque.quantity(if_any("pitch"), layout.hand_pitch_torque, units::torque, hand);
    });
    table.table({"pairing", "deflection number of the limb in each pocket"}, Form::section,
                [&](PartTable& pairing) {
                    pairing.number({"top_left"}, layout.pairing.top_left, positive);
                    pairing.number({"top_right"}, layout.pairing.top_right, positive);
                    pairing.number({"bottom_left"}, layout.pairing.bottom_left, positive);
                    pairing.number({"bottom_right"}, layout.pairing.bottom_right, positive);
                });
    table.table({"spacers", "left and right of each cam"}, Form::section, [&](PartTable& spacers) {
        spacers.table({"top"}, Form::line, [&](PartTable& t) { describe(t, layout.spacers_top); });
        spacers.table({"bottom"}, Form::line, [&](PartTable& t) { describe(t, layout.spacers_bottom); });
    });
    table.table(if_any("twists", "turns of twist added; cables and yokes in the order of the cables"),
                Form::section, [&](PartTable& twists) {
                    twists.number(if_any("string"), layout.twist_string, any);
                    twists.numbers(if_any("cables"), layout.twist_cables);
                    twists.numbers(if_any("yoke_left"), layout.twist_yoke_left);
                    twists.numbers(if_any("yoke_right"), layout.twist_yoke_right);
                });
}

/// A section that describes one value.
template <class Part>
void section(PartTable& table, const Key& key, Part& part) {
    table.table(key, Form::section, [&](PartTable& inner) { describe(inner, part); });
}

void describe_axles(PartTable& axle, Bow& bow, bool apart) {
    if (!apart) {
        describe(axle, bow.axle_top);
        bow.axle_bottom = bow.axle_top;
        return;
    }
    section(axle, {"top"}, bow.axle_top);
    section(axle, {"bottom"}, bow.axle_bottom);
}

void describe_laminae(PartTable& table, Laminae& laminae) {
    std::vector<std::string> given;
    for (const auto& [name, lamina] : laminae) given.push_back(name);
    for (const std::string& name : table.names(given)) section(table, {name}, laminae[name]);
}

}  // namespace

void describe(PartTable& file, Bow& bow, Laminae& laminae) {
    file.note("Axes: from the grip's pivot point, X toward the target, Y to the archer's left, Z up.");
    file.text({"name"}, bow.name);
    file.text(if_any("story"), bow.story);
    file.choice<CableSystem>({"cable_system"}, bow.cables.system, cable_system_names);
    section(file, {"riser"}, bow.riser);
    file.table({"pocket"}, Form::group, [&](PartTable& pocket) {
        section(pocket, {"top"}, bow.pocket_top);
        section(pocket, {"bottom"}, bow.pocket_bottom);
    });
    section(file, {"limb"}, bow.limb);
    file.table(if_any("lamina", {}, !laminae.empty()), Form::group,
               [&](PartTable& inner) { describe_laminae(inner, laminae); });
    const bool apart = !(bow.axle_top == bow.axle_bottom);
    file.table({"axle"}, apart ? Form::group : Form::section, [&](PartTable& axle) {
        describe_axles(axle, bow, apart || axle.has("top") || axle.has("bottom"));
    });
    file.table(if_any("tips", "of the limbs"), Form::section, [&](PartTable& tips) {
        tips.quantity(if_any("gap", "between their inside faces"), bow.gap, units::length,
                      {.at_least = 5.0_mm, .at_most = 150.0_mm});
        tips.quantity(if_any("play", "spacers and hub may fill the gap up to this"), bow.play, units::length,
                      {.at_least = 0, .at_most = 5.0_mm});
    });
    file.table({"cam"}, Form::group, [&](PartTable& cams) { describe_cams(cams, bow); });
    section(file, if_any("guide", "of the cables, on the riser"), bow.guide);
    section(file, {"cables"}, bow.cables);
    section(file, if_any("brace", "as measured on the strung bow", bow.brace.axle_to_axle != 0), bow.brace);
    section(file, {"shooter"}, bow.shooter);
    section(file, {"layout", "what a rebuild can change; left and right are the archer's"}, bow.layout);
}

}  // namespace limbwright::models
