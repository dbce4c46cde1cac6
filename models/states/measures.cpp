#include "models/states/measures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/input/units.hpp"
#include "models/states/internal_forces.hpp"
#include "models/states/torque_sensitivity.hpp"

namespace limbwright::models {
namespace {

using solver::Pose;
using solver::State;

/// Axle direction, to the left, in the riser's axes.
Vec3 axle_direction(const AssembledBow& bow, End end, const State& state) {
    return bow_frame(bow, state).rotation.inverse() *
           Vec3(state.at(bow.axle(end).middle).rotation * Vec3(Vec3::UnitX()));
}

double lean(const AssembledBow& bow, End end, const State& state) {
    const Vec3 axle = axle_direction(bow, end, state);
    // Turning about +X carries the top cam's outer edge to the right, the bottom cam's to the left.
    return -sign(end) * std::atan2(axle.z(), axle.y()) / units::degree;
}

double toe(const AssembledBow& bow, End end, const State& state) {
    const Vec3 axle = axle_direction(bow, end, state);
    // The string side looks toward −X; turning about +Z carries it to −Y, the right.
    return std::atan2(axle.x(), axle.y()) / units::degree;
}

Vec3 nock_travel(const StateView& v) {
    return nocking_point(v.bow, v.state()) - nocking_point(v.bow, v.brace());
}

/// Nocking point's departure from the straight line between brace and the last state, at equal X.
Vec3 nock_departure(const StateView& v) {
    const Vec3 whole = nocking_point(v.bow, v.draw.states.back().state) - nocking_point(v.bow, v.brace());
    const Vec3 here = nock_travel(v);
    return whole.x() == 0 ? Vec3(Vec3::Zero()) : Vec3(here - here.x() / whole.x() * whole);
}

/// Top pocket's pose against the bottom pocket's, both as changed from rest, in the riser's axes.
struct RiserShape {
    Vec3 turn, shift;
};
RiserShape riser_shape(const AssembledBow& bow, const State& state) {
    const RiserParts& riser = bow.riser;
    const Pose back = bow_frame(bow, state).inverse();
    const auto changed = [&](std::size_t i) {
        const Pose now = back * pose(riser.sections[i], state);
        return std::pair{Vec3(solver::log(now.rotation * riser.rest[i].rotation.inverse())),
                         Vec3(now.position - riser.rest[i].position)};
    };
    const auto top = changed(riser.sections.size() - 1), bottom = changed(0);
    return {top.first - bottom.first, top.second - bottom.second};
}

double to_stop(const StateView& v, End end) {
    const AxleParts& axle = v.bow.axle(end);
    if (!axle.stop) return std::nan("");
    const solver::Spring& stop = stop_of(v.bow, axle);
    return axle.draw_sense * (stop.data().rest - stop.value(v.state())) / units::degree;
}

using Measures = std::vector<Measure>;

/// A part's name in an id.
std::string underscored(std::string name) {
    std::ranges::replace_if(
        name, [](char c) { return c == ' ' || c == ',' || c == '-'; }, '_');
    return name;
}

void add_core(Measures& m) {
    m.push_back({"draw", "draw", "mm", "distance from the nocking point to the pivot point of the grip", 1,
                 [](const StateView& v) { return v.now().draw; }});
    m.push_back({"draw_force", "draw force", "N",
                 "reaction at the nocking point along the X axis, positive toward the archer", 1,
                 [](const StateView& v) { return v.now().force; }});
    m.push_back({"nock_travel_lateral", "nock travel, lateral", "mm",
                 "nocking point in the riser's frame less its place at brace, positive left", 2,
                 [](const StateView& v) { return nock_travel(v).y(); }});
    m.push_back({"nock_travel_vertical", "nock travel, vertical", "mm",
                 "nocking point in the riser's frame less its place at brace, positive up", 2,
                 [](const StateView& v) { return nock_travel(v).z(); }});
    m.push_back({"nock_departure_lateral", "nock departure, lateral", "mm",
                 "nocking point's path less the straight line between its places in the first and the last "
                 "state, positive left",
                 2, [](const StateView& v) { return nock_departure(v).y(); }});
    m.back().fixed_at_ends = true;
    m.push_back({"nock_departure_vertical", "nock departure, vertical", "mm",
                 "nocking point's path less the straight line between its places in the first and the last "
                 "state, positive up",
                 2, [](const StateView& v) { return nock_departure(v).z(); }});
    m.back().fixed_at_ends = true;
    m.push_back({"arrow_line_lateral", "arrow line, lateral", "deg",
                 "line from nocking point to arrow rest against the riser's X, positive when it points left",
                 3, [](const StateView& v) {
                     const Vec3 line = arrow_line(v.bow, v.state());
                     return std::atan2(line.y(), line.x()) / units::degree;
                 }});
    m.push_back({"arrow_line_vertical", "arrow line, vertical", "deg", "the same, positive when it points up",
                 3, [](const StateView& v) {
                     const Vec3 line = arrow_line(v.bow, v.state());
                     return std::atan2(line.z(), line.x()) / units::degree;
                 }});
    m.push_back({"riser_twist", "riser twist", "deg",
                 "turn of the top pocket against the bottom pocket about the riser's Z, positive from X to Y",
                 3,
                 [](const StateView& v) { return riser_shape(v.bow, v.state()).turn.z() / units::degree; }});
    m.push_back({"riser_bend", "riser bend", "mm",
                 "sideways shift of the top pocket against the bottom pocket, positive left", 2,
                 [](const StateView& v) { return riser_shape(v.bow, v.state()).shift.y(); }});
    m.push_back({"hand_torque_yaw", "hand torque, yaw", "N m",
                 "torque of the hand on the grip about Z, positive from X to Y", 2,
                 [](const StateView& v) { return v.bow.layout.hand_yaw_torque * 1e-3; }});
    m.push_back({"hand_torque_pitch", "hand torque, pitch", "N m",
                 "torque of the hand on the grip about the riser's lateral axis, positive from Z to X", 2,
                 [](const StateView& v) { return v.bow.layout.hand_pitch_torque * 1e-3; }});
    m.push_back({"hand_torque_roll", "hand torque, roll", "N m",
                 "torque of the hand on the grip that keeps the bow level, about X, positive from Y to Z", 3,
                 [](const StateView& v) { return roll_reaction(v.bow, v.state()) * 1e-3; }});
}

void add_cam(Measures& m, const AssembledBow& bow, End end) {
    const std::string which = name(end);
    const bool idler = !bow.axle(end).turn;
    m.push_back({"lean_" + which, "cam lean, " + which, "deg",
                 "turn of the cam's axle about X against the riser's lateral axis at the grip, positive when "
                 "the cam's outer edge leans to the left",
                 3, [=](const StateView& v) { return lean(v.bow, end, v.state()); }});
    m.push_back(
        {"toe_" + which, "cam toe, " + which, "deg",
         "turn of the cam's axle about the riser's Z, positive when the cam's string side points left", 3,
         [=](const StateView& v) { return toe(v.bow, end, v.state()); }});
    if (idler) return;
    m.push_back(
        {"cam_turn_" + which, "cam turn, " + which, "deg",
         "turn of the cam in the riser's frame from the pose in which it is drawn, positive with the draw", 2,
         [=](const StateView& v) { return cam_turn(v.bow, end, v.state()) / units::degree; }});
    m.push_back({"turn_to_stop_" + which, "turn to stop, " + which, "deg",
                 "turn of the cam against its limbs that is left until its draw stop meets", 2,
                 [=](const StateView& v) { return to_stop(v, end); }});
}

void add_timing(Measures& m, const AssembledBow& bow) {
    if (!bow.axles[0].turn) return;
    m.push_back({"timing_turns", "timing, turns", "deg", "turn of the top cam less turn of the bottom cam", 3,
                 [](const StateView& v) {
                     return (cam_turn(v.bow, End::top, v.state()) - cam_turn(v.bow, End::bottom, v.state())) /
                            units::degree;
                 }});
    m.push_back({"timing_stops", "timing, stops", "deg",
                 "turn to stop of the top cam less that of the bottom cam", 3,
                 [](const StateView& v) { return to_stop(v, End::top) - to_stop(v, End::bottom); }});
}

void add_forces(Measures& m, const AssembledBow& bow) {
    for (const CablePart& part : bow.all_cables())
        m.push_back({"tension_" + underscored(part.name), "tension, " + part.name, "N",
                     "pull along it, zero when slack", 1,
                     [=](const StateView& v) { return v.bow.cable(part).tension(v.state()); }});
    m.push_back({"guide_side_force", "guide side force", "N",
                 "of all cables on the guide along the riser's lateral axis, positive left", 2,
                 [](const StateView& v) { return guide_force(v.bow, v.state()).y(); }});
    for (const End end : {End::top, End::bottom}) {
        const std::string which = name(end);
        m.push_back(
            {"bearing_side_force_" + which, "bearing side force, " + which, "N",
             "of string and cables on the cam along its axle, against the spacers, positive left", 2,
             [=](const StateView& v) {
                 return cam_load(v.bow, end, v.state()).force.dot(axle_direction(v.bow, end, v.state()));
             }});
        m.push_back({"bearing_moment_" + which, "bearing moment, " + which, "N m",
                     "of string and cables on the cam across its axle, about the middle of the hub, size", 3,
                     [=](const StateView& v) {
                         const Vec3 moment = cam_load(v.bow, end, v.state()).moment;
                         const Vec3 axle = axle_direction(v.bow, end, v.state());
                         return (moment - moment.dot(axle) * axle).norm() * 1e-3;
                     }});
        for (const Flank flank : {Flank::left, Flank::right})
            m.push_back({"tip_side_force_" + which + (flank == Flank::left ? "_left" : "_right"),
                         "tip side force, " + which + (flank == Flank::left ? " left" : " right"), "N",
                         "of the limb tip on the axle along the axle, positive left", 2,
                         [=](const StateView& v) { return tip_side_force(v.bow, end, flank, v.state()); }});
    }
}

void add_forgiveness(Measures& m) {
    m.push_back({"forgiveness_arrow_yaw", "forgiveness, arrow yaw", "deg/(N m)",
                 "change of the arrow line's yaw per newton-metre of hand yaw torque, positive left", 4,
                 [](const StateView& v) { return arrow_yaw_forgiveness(v.bow, v.now()); },
                 Needs::yaw_torque_effect});
    m.push_back(
        {"forgiveness_nock_travel", "forgiveness, nock travel", "mm/(N m)",
         "change of the nocking point's lateral place in the riser's frame per newton-metre of hand yaw "
         "torque, positive left",
         4, [](const StateView& v) { return nock_travel_forgiveness(v.bow, v.now()); },
         Needs::yaw_torque_effect});
    for (const End end : {End::top, End::bottom}) {
        const std::string which = name(end);
        m.push_back({"forgiveness_lean_" + which, "forgiveness, cam lean " + which, "deg/(N m)",
                     "change of the cam lean per newton-metre of hand yaw torque, positive to the left", 4,
                     [=](const StateView& v) {
                         return per_yaw_torque(v.now(), [&](const State& x) { return lean(v.bow, end, x); });
                     },
                     Needs::yaw_torque_effect});
    }
}

void add_strength(Measures& m, const AssembledBow& bow) {
    for (std::size_t e = 0; e < 2; ++e)
        for (std::size_t r = 0; r < bow.limbs[e].rows.size(); ++r) {
            const std::string& name = bow.limbs[e].rows[r].name;
            const auto strain = [=](const StateView& v) {
                return largest_strain(v.bow, v.bow.limbs[e].rows[r], v.state());
            };
            m.push_back({"strain_" + underscored(name), "strain, " + name, "%", "largest outer-fibre strain",
                         3, [=](const StateView& v) { return 100 * strain(v); }});
            m.push_back({"strain_share_" + underscored(name), "strain share, " + name, "%",
                         "largest outer-fibre strain over the allowable", 1, [=](const StateView& v) {
                             return 100 * strain(v) / v.bow.bow.limb.strain_allowable;
                         }});
            m.back().at_most = 100;
        }
    for (const End end : {End::top, End::bottom}) {
        const std::string which = name(end);
        m.push_back({"axle_stress_" + which, "axle stress, " + which, "MPa", "largest bending stress", 0,
                     [=](const StateView& v) { return axle_stress(v.bow, end, v.state()); }});
        m.push_back({"axle_stress_share_" + which, "axle stress share, " + which, "%",
                     "largest bending stress over the allowable", 1, [=](const StateView& v) {
                         return 100 * axle_stress(v.bow, end, v.state()) /
                                axle_of(v.bow.bow, end).stress_allowable;
                     }});
        m.back().at_most = 100;
    }
}

void add_energy(Measures& m) {
    const auto stored = [](const StateView& v) {
        return (v.now().energy - v.draw.states.front().energy) * 1e-3;
    };
    m.push_back({"stored_energy", "stored energy", "J", "energy of all parts less that at brace", 3, stored,
                 Needs::energy});
    m.push_back({"work", "work", "J", "of the draw force from brace on, integrated over the states", 3,
                 [](const StateView& v) { return v.work * 1e-3; }, Needs::whole_draw});
    m.push_back({"energy_error", "energy error", "J",
                 "work less stored energy: the numerical error of the draw", 6,
                 [=](const StateView& v) { return v.work * 1e-3 - stored(v); }, Needs::whole_draw});
    m.push_back(
        {"clearance", "clearance", "mm",
         "smallest distance between a cable and the arrow's line, less the vanes' radius and half a cable", 2,
         [](const StateView& v) { return arrow_clearance(v.bow, v.state()); }});
    m.back().at_least = 0;
    m.push_back({"residual", "residual", "1",
                 "largest unbalanced force or moment over the largest of its kind in any part", 12,
                 [](const StateView& v) { return v.now().residual; }, Needs::whole_draw});
    m.push_back({"iterations", "iterations", "1", "Newton iterations to find the state", 0,
                 [](const StateView& v) { return v.now().iterations; }, Needs::whole_draw});
    m.push_back({"negative_pivots", "negative pivots", "1",
                 "of the tangent; more than zero means that the state is not stable", 0,
                 [](const StateView& v) { return v.now().negative_pivots; }, Needs::whole_draw});
}

}  // namespace

std::vector<Measure> state_measures(const AssembledBow& bow) {
    Measures m;
    add_core(m);
    add_cam(m, bow, End::top);
    add_cam(m, bow, End::bottom);
    add_timing(m, bow);
    add_forces(m, bow);
    add_forgiveness(m);
    add_strength(m, bow);
    add_energy(m);
    return m;
}

std::string in_words(const std::string& measure, DrawPlace at) {
    if (at == DrawPlace::whole) return measure;
    return fmt::format("{}, at {}", measure, name_of<DrawPlace>(at, place_names));
}

const Measure* find(const std::vector<Measure>& measures, std::string_view id) {
    const auto found = std::ranges::find(measures, id, &Measure::id);
    return found == measures.end() ? nullptr : &*found;
}

std::vector<std::vector<double>> values(const std::vector<Measure>& measures, const AssembledBow& bow,
                                        const Draw& draw) {
    const std::vector<double> done = work(draw);
    std::vector<std::vector<double>> all(measures.size());
    for (std::size_t i = 0; i < draw.states.size(); ++i)
        for (std::size_t k = 0; k < measures.size(); ++k)
            all[k].push_back(measures[k].value({bow, draw, i, done[i]}));
    return all;
}

}  // namespace limbwright::models
