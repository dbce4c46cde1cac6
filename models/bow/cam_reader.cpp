#include "models/bow/cam_reader.hpp"

#include "models/bow/groove_file.hpp"

namespace limbwright::models {
namespace {

using namespace literals;

Track track_in(TableReader table, CamRole role, const std::filesystem::path& folder, Complaints& complaints) {
    Track track;
    if (table.has("circle")) {
        TableReader circle = table.table("circle");
        track.circle = Track::Circle{
            .centre = circle.plane_point("centre", {.at_least = -100.0_mm, .at_most = 100.0_mm}),
            .radius = circle.quantity("radius", units::length, {.at_least = 3.0_mm, .at_most = 150.0_mm}),
        };
    }
    const std::string traced = table.text_or("traced", {});
    const std::string support = table.text_or("support", {});
    if (!traced.empty()) {
        const std::filesystem::path file = folder / traced;
        track.traced = read_traced(file, file.string(), table.path_of("traced"), complaints);
        track.traced->file = traced;
    }
    if (!support.empty()) {
        const std::filesystem::path file = folder / support;
        track.support = read_support(file, file.string(), table.path_of("support"), complaints);
        track.support->file = support;
    }
    track.lateral =
        table.quantity_or("lateral", 0, units::length, {.at_least = -40.0_mm, .at_most = 40.0_mm});
    constexpr Range turns{.at_least = -720.0_deg, .at_most = 720.0_deg};
    track.anchor = role == CamRole::idler ? table.quantity_or("anchor", 0, units::angle, turns)
                                          : table.quantity("anchor", units::angle, turns);
    return track;
}

}  // namespace

Cam cam_in(TableReader table, CamRole role, const std::filesystem::path& folder, Complaints& complaints) {
    Cam cam;
    cam.hub = table.quantity("hub", units::length, {.at_least = 2.0_mm, .at_most = 80.0_mm});
    cam.string = track_in(table.table("string"), role, folder, complaints);
    if (TableReader take_up = table.table_if_any("take_up"); take_up.present())
        cam.take_up = track_in(take_up, role, folder, complaints);
    if (TableReader let_out = table.table_if_any("let_out"); let_out.present())
        cam.let_out = track_in(let_out, role, folder, complaints);
    cam.stop = table.optional_quantity("stop", units::angle, {.at_least = 10.0_deg, .at_most = 450.0_deg});
    cam.stop_stiffness =
        table.quantity_or("stop_stiffness", cam.stop_stiffness, units::turn_rate, {.above = 0});
    cam.mass = table.optional_quantity("mass", units::mass, {.at_least = 1e-6, .at_most = 2e-3});
    return cam;
}

}  // namespace limbwright::models
