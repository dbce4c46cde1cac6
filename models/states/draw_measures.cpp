#include "models/states/draw_measures.hpp"

#include <cmath>

#include "models/input/units.hpp"
#include "models/states/torque_sensitivity.hpp"

namespace limbwright::models {
namespace {

using solver::Pose;
using solver::State;

/// Lateral distance from the string track's plane to the nocking point, at the nocking point's height.
double straightedge_gap(const AssembledBow& bow, End end, const State& state) {
    const Cam& cam = cam_of(bow.bow, end);
    const Pose track = bow_frame(bow, state).inverse() *
                       pose(bow.axle(end).cam.then(Pose{{}, Vec3(0, 0, -cam.string.lateral)}), state);
    const Vec3 normal = track.rotation * Vec3(Vec3::UnitZ());
    const Vec3 nock = nocking_point(bow, state);
    // The plane meets the lateral line through the nocking point at nock + gap · left.
    return normal.dot(track.position - nock) / normal.y();
}

/// Angle between the nocking point's path at brace and the line from it to the arrow rest, lateral (1) or
/// vertical (2).
double path_slope(const Draw& draw, const AssembledBow& bow, int component) {
    if (draw.states.size() < 2) return std::nan("");
    const State& brace = draw.states[0].state;
    const Vec3 path =
        nocking_point(bow, brace) - nocking_point(bow, draw.states[1].state);  // toward the target
    const Vec3 line = arrow_line(bow, brace);
    return (std::atan2(path[component], path.x()) - std::atan2(line[component], line.x())) / units::degree;
}

}  // namespace

std::vector<Measure> draw_measures() {
    std::vector<Measure> m;
    m.push_back({"axle_to_axle", "axle-to-axle", "mm", "distance between the axles' middles at brace", 2,
                 [](const StateView& v) { return axle_to_axle(v.bow, v.brace()); }});
    m.push_back({"brace_height", "brace height", "mm",
                 "from the pivot point to the nocking point along the riser's X at brace", 2,
                 [](const StateView& v) { return -nocking_point(v.bow, v.brace()).x(); }});
    m.push_back({"nocking_point_height", "nocking-point height", "mm",
                 "above the pivot point along the riser's Z at brace", 2,
                 [](const StateView& v) { return nocking_point(v.bow, v.brace()).z(); }});
    for (const End end : {End::top, End::bottom})
        m.push_back({std::string("straightedge_gap_") + name(end),
                     std::string("straightedge gap, ") + name(end), "mm",
                     "at brace and the nocking point's height, from the string to a straightedge laid along "
                     "the cam's string track, positive when the straightedge passes left of the string",
                     2, [=](const StateView& v) { return straightedge_gap(v.bow, end, v.brace()); }});
    m.push_back({"peak_weight", "peak weight", "N", "largest draw force", 1,
                 [](const StateView& v) { return v.draw.peak().force; }});
    m.push_back({"peak_weight_pounds", "peak weight, pounds", "lbf", "the same in pounds", 1,
                 [](const StateView& v) { return v.draw.peak().force / units::pound; }});
    m.push_back({"draw_at_peak", "draw at peak", "mm", "draw of the state with the largest draw force", 1,
                 [](const StateView& v) { return v.draw.peak().draw; }, Needs::whole_draw});
    m.push_back({"holding_weight", "holding weight", "N", "draw force at full draw", 1,
                 [](const StateView& v) { return v.draw.states.back().force; }});
    m.push_back({"holding_weight_pounds", "holding weight, pounds", "lbf", "the same in pounds", 1,
                 [](const StateView& v) { return v.draw.states.back().force / units::pound; }});
    m.push_back({"let_off", "let-off", "%", "1 − holding weight / peak weight", 1, [](const StateView& v) {
                     return 100 * (1 - v.draw.states.back().force / v.draw.peak().force);
                 }});
    m.push_back({"draw_length", "draw length", "in", "draw of the last state plus 1.75 in (AMO/ATA standard)",
                 2, [](const StateView& v) {
                     return (v.draw.states.back().draw + draw_length_beyond_pivot) / units::inch;
                 }});
    m.back().fixed_at_ends = true;
    m.push_back({"stored_energy", "stored energy", "J",
                 "energy of all parts in the last state less that at brace", 2,
                 [](const StateView& v) {
                     return (v.draw.states.back().energy - v.draw.states.front().energy) * 1e-3;
                 },
                 Needs::energy});
    m.push_back({"path_slope_lateral", "path slope at brace, lateral", "deg",
                 "the nocking point's path toward the target in the riser's frame, first step of the draw, "
                 "less the line from nocking point to arrow rest, positive left",
                 3, [](const StateView& v) { return path_slope(v.draw, v.bow, 1); }, Needs::whole_draw});
    m.push_back({"path_slope_vertical", "path slope at brace, vertical", "deg", "the same, positive up", 3,
                 [](const StateView& v) { return path_slope(v.draw, v.bow, 2); }, Needs::whole_draw});
    m.push_back({"forgiveness_arrow_yaw", "forgiveness, arrow yaw", "deg/(N m)",
                 "change of the arrow line's yaw per newton-metre of hand yaw torque in the last state, "
                 "positive left",
                 4, [](const StateView& v) { return arrow_yaw_forgiveness(v.bow, v.draw.states.back()); },
                 Needs::yaw_torque_effect});
    m.push_back({"forgiveness_nock_travel", "forgiveness, nock travel", "mm/(N m)",
                 "change of the nocking point's lateral place in the riser's frame per newton-metre of hand "
                 "yaw torque in the last state, positive left",
                 4, [](const StateView& v) { return nock_travel_forgiveness(v.bow, v.draw.states.back()); },
                 Needs::yaw_torque_effect});
    return m;
}

}  // namespace limbwright::models
