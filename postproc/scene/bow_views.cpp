#include "postproc/scene/bow_views.hpp"

#include <fmt/format.h>

#include "models/input/units.hpp"
#include "postproc/output/svg.hpp"
#include "postproc/scene/bow_scene.hpp"

namespace limbwright::postproc {
namespace {

using models::Draw;
using models::DrawState;
using models::StrungBow;

const Axis draw_axis{.title = "draw, nocking point to pivot point", .unit = "mm"};

/// One state in the bow's own frame, sideways dimensions enlarged.
Scene upright(const StrungBow& strung, const DrawState& state, double sideways) {
    Scene scene = scene_of(strung, state);
    const solver::Pose to_bow = bow_frame(strung.bow, state.state).inverse();
    for (Piece& piece : scene.pieces)
        for (Vec3& point : piece.points) {
            point = to_bow * point;
            point.y() *= sideways;
        }
    return scene;
}

std::vector<CaptionedScene> brace_and_full_draw(const StrungBow& strung, const Draw& draw, double sideways) {
    std::vector<CaptionedScene> scenes;
    if (draw.states.empty()) return scenes;
    const DrawState& brace = draw.states.front();
    scenes.push_back(
        {fmt::format("brace: {:.0f} mm from the pivot point", brace.draw), upright(strung, brace, sideways)});
    if (draw.states.size() < 2) return scenes;
    const DrawState& full = draw.states.back();
    scenes.push_back(
        {fmt::format("drawn: {:.0f} mm, {:.0f} N", full.draw, full.force), upright(strung, full, sideways)});
    return scenes;
}

Panel angle_panel(const std::string& title, const std::string& positive, const std::vector<double>& draw,
                  const CamAngles& angles) {
    Panel panel{.title = title,
                .x = draw_axis,
                .y = {.title = positive, .unit = "deg", .least_span = 0.1},
                .curves = {}};
    if (!angles.top.empty()) panel.curves.push_back({"top cam", draw, angles.top});
    panel.curves.push_back({"bottom cam", draw, angles.bottom});
    return panel;
}

std::vector<double> from_first(std::vector<double> values) {
    const double first = values.empty() ? 0 : values.front();
    for (double& value : values) value -= first;
    return values;
}

}  // namespace

BowPicture side_view(const StrungBow& strung, const Draw& draw) {
    return {.title = strung.bow.bow.name + ": seen from the archer's right",
            .scenes = brace_and_full_draw(strung, draw, 1),
            .view = {}};
}

BowPicture view_from_behind(const StrungBow& strung, const Draw& draw, double sideways) {
    return {.title = fmt::format("{}: seen from behind, sideways × {} (the bar measures heights)",
                                 strung.bow.bow.name, svg::number(sideways)),
            .scenes = brace_and_full_draw(strung, draw, sideways),
            .view = {.looking = Vec3::UnitX()}};
}

Plot force_draw_plot(const Draw& draw) {
    Curve curve{"", draws_of(draw), {}};
    for (const DrawState& state : draw.states) curve.y.push_back(state.force);
    std::string title = "Draw force";
    if (!curve.y.empty()) {
        const double peak = draw.peak().force, holding = curve.y.back();
        title = fmt::format("Peak {:.0f} N ({:.1f} lbf), holding {:.0f} N ({:.1f} lbf)", peak,
                            peak / models::units::pound, holding, holding / models::units::pound);
        if (peak > 0) title += fmt::format(", let-off {:.0f} %", 100 * (1 - holding / peak));
    }
    return {.title = "Draw force over the draw",
            .panels = {{.title = title,
                        .x = draw_axis,
                        .y = {.title = "draw force", .unit = "N", .least_span = 1},
                        .curves = {curve}}}};
}

Plot cam_angles_plot(const std::vector<double>& draw, const CamAngles& lean, const CamAngles& toe) {
    return {.title = "Cam lean and toe over the draw",
            .panels = {angle_panel("Lean", "outer edge to the left", draw, lean),
                       angle_panel("Toe", "string side to the left", draw, toe)},
            .panels_across = 2,
            .panel_width = 520,
            .panel_height = 360};
}

Plot nock_travel_plot(const std::vector<double>& draw, const std::vector<double>& lateral,
                      const std::vector<double>& height) {
    const auto panel = [&](const std::string& title, const std::string& positive,
                           const std::vector<double>& values) {
        return Panel{.title = title,
                     .x = draw_axis,
                     .y = {.title = positive, .unit = "mm", .least_span = 0.1},
                     .curves = {{"", draw, from_first(values)}}};
    };
    return {.title = "Nock travel from brace, in the riser's frame",
            .panels = {panel("Sideways", "to the left", lateral), panel("Up and down", "upward", height)},
            .panels_across = 2,
            .panel_width = 520,
            .panel_height = 360};
}

std::vector<double> draws_of(const Draw& draw) {
    std::vector<double> draws;
    for (const DrawState& state : draw.states) draws.push_back(state.draw);
    return draws;
}

}  // namespace limbwright::postproc
