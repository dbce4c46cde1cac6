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

std::vector<DrawMeasure> draw_measures() {
    std::vector<DrawMeasure> m;
    m.push_back({"axle-to-axle", "mm", "distance between the axles' middles at brace", 2,
                 [](const StrungBow& s, const Draw&) { return axle_to_axle(s.bow, s.brace.state); }});
    m.push_back({"brace height", "mm",
                 "from the pivot point to the nocking point along the riser's X at brace", 2,
                 [](const StrungBow& s, const Draw&) { return -nocking_point(s.bow, s.brace.state).x(); }});
    m.push_back({"nocking-point height", "mm", "above the pivot point along the riser's Z at brace", 2,
                 [](const StrungBow& s, const Draw&) { return nocking_point(s.bow, s.brace.state).z(); }});
    for (const End end : {End::top, End::bottom})
        m.push_back({std::string("straightedge gap, ") + name(end), "mm",
                     "at brace and the nocking point's height, from the string to a straightedge laid along "
                     "the cam's string track, positive when the straightedge passes left of the string",
                     2, [=](const StrungBow& s, const Draw&) {
                         return straightedge_gap(s.bow, end, s.brace.state);
                     }});
    m.push_back({"peak weight", "N", "largest draw force of the states", 1,
                 [](const StrungBow&, const Draw& d) { return d.peak().force; }});
    m.push_back({"peak weight, pounds", "lbf", "the same in pounds", 1,
                 [](const StrungBow&, const Draw& d) { return d.peak().force / units::pound; }});
    m.push_back({"draw at peak", "mm", "draw of the state with the largest draw force", 1,
                 [](const StrungBow&, const Draw& d) { return d.peak().draw; }});
    m.push_back({"holding weight", "N", "draw force of the last state", 1,
                 [](const StrungBow&, const Draw& d) { return d.states.back().force; }});
    m.push_back({"holding weight, pounds", "lbf", "the same in pounds", 1,
                 [](const StrungBow&, const Draw& d) { return d.states.back().force / units::pound; }});
    m.push_back({"let-off", "%", "1 − holding weight / peak weight", 1, [](const StrungBow&, const Draw& d) {
                     return 100 * (1 - d.states.back().force / d.peak().force);
                 }});
    m.push_back({"draw length", "in", "draw of the last state plus 1.75 in (AMO/ATA standard)", 2,
                 [](const StrungBow&, const Draw& d) {
                     return (d.states.back().draw + draw_length_beyond_pivot) / units::inch;
                 }});
    m.push_back({"stored energy", "J", "energy of all parts in the last state less that at brace", 2,
                 [](const StrungBow&, const Draw& d) {
                     return (d.states.back().energy - d.states.front().energy) * 1e-3;
                 }});
    m.push_back({"path slope at brace, lateral", "deg",
                 "the nocking point's path toward the target in the riser's frame, first step of the draw, "
                 "less the line from nocking point to arrow rest, positive left",
                 3, [](const StrungBow& s, const Draw& d) { return path_slope(d, s.bow, 1); }});
    m.push_back({"path slope at brace, vertical", "deg", "the same, positive up", 3,
                 [](const StrungBow& s, const Draw& d) { return path_slope(d, s.bow, 2); }});
    m.push_back(
        {"forgiveness, arrow yaw", "deg/(N m)",
         "change of the arrow line's yaw per newton-metre of hand yaw torque in the last state, "
         "positive left",
         4, [](const StrungBow& s, const Draw& d) { return arrow_yaw_forgiveness(s.bow, d.states.back()); }});
    m.push_back({"forgiveness, nock travel", "mm/(N m)",
                 "change of the nocking point's lateral place in the riser's frame per newton-metre of hand "
                 "yaw torque in the last state, positive left",
                 4, [](const StrungBow& s, const Draw& d) {
                     return nock_travel_forgiveness(s.bow, d.states.back());
                 }});
    return m;
}

}  // namespace limbwright::models
