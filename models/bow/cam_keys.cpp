#include "models/bow/cam_keys.hpp"

#include "models/bow/upside_down_cam.hpp"

namespace limbwright::models {
namespace {

using namespace literals;

void describe_circle(PartTable& table, Track::Circle& circle) {
    table.point({"centre"}, circle.centre, {.at_least = -100.0_mm, .at_most = 100.0_mm});
    table.quantity({"radius"}, circle.radius, units::length, {.at_least = 3.0_mm, .at_most = 150.0_mm});
}

void describe_track(PartTable& table, Track& track, bool idler) {
    table.table(if_any("circle", {}, track.circle.has_value()), Form::line, [&](PartTable& inner) {
        if (!track.circle) track.circle.emplace();
        describe_circle(inner, *track.circle);
    });
    table.file(if_any("traced"), track.traced);
    table.file(if_any("support"), track.support);
    table.quantity(if_any("lateral", "groove's plane from the middle of the hub, positive left"),
                   track.lateral, units::length, {.at_least = -40.0_mm, .at_most = 40.0_mm});
    Key anchor{"anchor", "direction at which the post ends the groove, from U toward V"};
    anchor.needed = !idler;
    table.quantity(anchor, track.anchor, units::angle, {.at_least = -720.0_deg, .at_most = 720.0_deg});
}

void describe_track_if_any(PartTable& table, std::string_view name, std::optional<Track>& track) {
    table.table(if_any(name, {}, track.has_value()), Form::section, [&](PartTable& inner) {
        if (!track) track.emplace();
        describe_track(inner, *track, false);
    });
}

}  // namespace

void describe(PartTable& table, Cam& cam, bool idler) {
    table.quantity({"hub", "width that fills the gap together with the spacers"}, cam.hub, units::length,
                   {.at_least = 2.0_mm, .at_most = 80.0_mm});
    table.quantity(if_any("stop", "turn from brace at which the draw stop meets"), cam.stop, units::angle,
                   {.at_least = 10.0_deg, .at_most = 450.0_deg});
    table.quantity(if_any("stop_stiffness"), cam.stop_stiffness, units::turn_rate, positive);
    table.quantity(if_any("mass", "with bearings, without axle"), cam.mass, units::mass,
                   {.at_least = 1e-6, .at_most = 2e-3});
    table.table({"string"}, Form::section,
                [&](PartTable& inner) { describe_track(inner, cam.string, idler); });
    describe_track_if_any(table, "take_up", cam.take_up);
    describe_track_if_any(table, "let_out", cam.let_out);
}

void describe_cams(PartTable& cams, Bow& bow) {
    const CableSystem system = bow.cables.system;
    const bool may_follow = system == CableSystem::crossed || system == CableSystem::yoked;
    cams.note(
        "Grooves as seen from the archer's right at brace: U toward the target, V up, from the axle,\n"
        "to the cable's centre line.");
    cams.table({"top"}, Form::section,
               [&](PartTable& inner) { describe(inner, bow.cam_top, system == CableSystem::single_cam); });
    bool has_own = false;
    Key bottom{"bottom"};
    bottom.needed = !may_follow;
    bottom.given = !may_follow || !is_upside_down(bow.cam_bottom, bow.cam_top);
    cams.table(bottom, Form::section, [&](PartTable& inner) {
        has_own = true;
        describe(inner, bow.cam_bottom, false);
    });
    if (has_own) return;
    bow.cam_bottom = flipped(bow.cam_top);
    cams.left_out("bottom", "The bottom cam is the top cam's mirror image through the horizontal plane.");
}

}  // namespace limbwright::models
