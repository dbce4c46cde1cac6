#include "postproc/results/ranking_views.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/states/measures.hpp"

namespace limbwright::postproc {
namespace {

const Axis draw_axis{.title = "draw, nocking point to pivot point", .unit = "mm"};

/// Value of a curve at x by straight lines between its points; NaN outside of them.
double value_at(const Curve& curve, double x) {
    const auto right = std::lower_bound(curve.x.begin(), curve.x.end(), x);
    if (right == curve.x.end()) return NAN;
    const auto i = static_cast<std::size_t>(right - curve.x.begin());
    if (*right == x) return curve.y[i];
    if (i == 0) return NAN;
    const double share = (x - curve.x[i - 1]) / (curve.x[i] - curve.x[i - 1]);
    return curve.y[i - 1] + share * (curve.y[i] - curve.y[i - 1]);
}

Curve difference(const Curve& curve, const Curve& first) {
    if (curve.x.size() != curve.y.size() || first.x.size() != first.y.size())
        throw std::invalid_argument("curve \"" + curve.name + "\" has not as many y as x");
    Curve less{"", first.x, {}};  // the upper panel's legend names it
    for (std::size_t i = 0; i < first.x.size(); ++i)
        less.y.push_back(value_at(curve, first.x[i]) - first.y[i]);
    return less;
}

}  // namespace

std::vector<Curve> curves_of(const std::vector<models::FullDraw>& draws, const std::string& measure) {
    std::vector<Curve> curves;
    for (const models::FullDraw& full : draws) {
        if (!full.failure.empty()) continue;
        const std::vector<models::Measure> all = models::state_measures(full.strung->bow);
        const models::Measure* found = models::find(all, measure);
        if (!found) continue;
        Curve curve{full.name, {}, models::values({*found}, full.strung->bow, full.draw).front()};
        for (const models::DrawState& state : full.draw.states) curve.x.push_back(state.draw);
        curves.push_back(std::move(curve));
    }
    return curves;
}

Plot compared_nock_travel(std::vector<Curve> lateral) {
    for (Curve& curve : lateral) {
        const double brace = curve.y.empty() ? 0 : curve.y.front();
        for (double& y : curve.y) y -= brace;
    }
    return {.title = "Nock travel from brace, sideways, in the riser's frame",
            .panels = {{.title = "",
                        .x = draw_axis,
                        .y = {.title = "to the left", .unit = "mm", .least_span = 0.1},
                        .curves = std::move(lateral)}},
            .panel_width = 760,
            .panel_height = 460};
}

Plot compared_draw_force(std::vector<Curve> force) {
    Panel differences{.title = force.empty() ? "" : "Difference from " + force.front().name,
                      .x = draw_axis,
                      .y = {.title = "difference", .unit = "N", .least_span = 0.1},
                      .curves = {}};
    // The first's own is the zero line; it is kept, so that a curve looks alike in both panels.
    for (const Curve& curve : force) differences.curves.push_back(difference(curve, force.front()));
    return {.title = "Draw force over the draw",
            .panels = {{.title = "",
                        .x = draw_axis,
                        .y = {.title = "draw force", .unit = "N", .least_span = 1},
                        .curves = std::move(force)},
                       std::move(differences)},
            .panel_width = 760,
            .panel_height = 400};
}

Plot compared_forgiveness(std::vector<Curve> arrow_yaw, std::vector<Curve> nock_travel) {
    for (Curve& curve : nock_travel) curve.name.clear();  // the upper panel's legend names it
    return {.title = "Forgiveness: what a newton-metre of the hand's yaw torque does",
            .panels = {{.title = "Arrow yaw",
                        .x = draw_axis,
                        .y = {.title = "yaw to the left", .unit = "deg/(N m)", .least_span = 0.001},
                        .curves = std::move(arrow_yaw)},
                       {.title = "Nock travel, sideways",
                        .x = draw_axis,
                        .y = {.title = "to the left", .unit = "mm/(N m)", .least_span = 0.01},
                        .curves = std::move(nock_travel)}},
            .panel_width = 760,
            .panel_height = 400};
}

}  // namespace limbwright::postproc
