#include "models/tuning/tear_measures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "models/input/units.hpp"
#include "models/states/internal_forces.hpp"
#include "models/states/torque_sensitivity.hpp"
#include "solver/system/assembly.hpp"

namespace limbwright::models {
namespace {

/// Angle of a direction in the riser's axes against X, sideways (1) or upward (2) [deg].
double angle(const Vec3& direction, int component) {
    return std::atan2(direction[component], direction.x()) / units::degree;
}

double tail_turn(const StateView& v, int component) {
    return angle(arrow_line(v.bow, v.draw.states.back().state), component) -
           angle(arrow_line(v.bow, v.brace()), component);
}

/// The nocking point in the riser's axes at a given draw, on the cubic through four states (Lagrange).
Vec3 nock_at(const AssembledBow& bow, const Draw& draw, double at) {
    const auto& states = draw.states;
    const std::size_t count = std::min<std::size_t>(4, states.size());
    std::size_t first = 0;
    while (first + count < states.size() && states[first + 1].draw < at) ++first;
    Vec3 place = Vec3::Zero();
    for (std::size_t i = first; i < first + count; ++i) {
        double weight = 1;
        for (std::size_t k = first; k < first + count; ++k)
            if (k != i) weight *= (at - states[k].draw) / (states[i].draw - states[k].draw);
        place += weight * nocking_point(bow, states[i].state);
    }
    return place;
}

double end_slope(const StateView& v, int component) {
    const DrawState& brace = v.draw.states.front();
    const double from = std::min(brace.draw + stroke_end, v.draw.states.back().draw);
    const Vec3 path = nocking_point(v.bow, brace.state) - nock_at(v.bow, v.draw, from);
    return angle(path, component) - angle(arrow_line(v.bow, brace.state), component);
}

double nock_side_force(const AssembledBow& bow, const DrawState& at) {
    const solver::Numbering& n = bow.system.numbering();
    const solver::VecX gradient = solver::total_gradient(bow.system, at.state);
    Vec3 on_nock;
    for (std::size_t i = 0; i < 3; ++i) on_nock[static_cast<int>(i)] = -gradient[n.first(bow.nock[i])];
    const Vec3 line = bow_frame(bow, at.state).rotation * arrow_line(bow, at.state);
    const Vec3 left = Vec3(-line.y(), line.x(), 0).normalized();
    return left.dot(on_nock);
}

/// Trapezoids over the states: both integrals err alike.
double side_push(const StateView& v) {
    const std::vector<DrawState>& states = v.draw.states;
    double aside = 0, forward = 0, last = nock_side_force(v.bow, states.front());
    for (std::size_t i = 1; i < states.size(); ++i) {
        const DrawState &a = states[i - 1], &b = states[i];
        const double now = nock_side_force(v.bow, b);
        aside += (last + now) / 2 * (b.draw - a.draw);
        forward += (a.force + b.force) / 2 * (b.draw - a.draw);
        last = now;
    }
    return 100 * aside / forward;
}

}  // namespace

std::vector<Measure> tear_measures() {
    std::vector<Measure> m;
    m.push_back({"tail_turn_lateral", "tail turn, lateral", "deg",
                 "by which the arrow's tail has gone left about the rest from full draw to brace, in the "
                 "riser's frame; positive leaves a tail-left tear",
                 3, [](const StateView& v) { return tail_turn(v, 1); }});
    m.push_back({"tail_turn_vertical", "tail turn, vertical", "deg",
                 "the same upward; positive leaves a tail-high tear", 3,
                 [](const StateView& v) { return tail_turn(v, 2); }});
    m.push_back({"end_slope_lateral", "end slope, lateral", "deg",
                 "the nock's path toward the target over the last 3 in before brace, less the arrow's line "
                 "there; positive when the tail is heading left",
                 3, [](const StateView& v) { return end_slope(v, 1); }});
    m.push_back({"end_slope_vertical", "end slope, vertical", "deg",
                 "the same upward; positive when the tail is heading up", 3,
                 [](const StateView& v) { return end_slope(v, 2); }});
    m.push_back({"nock_side_force_at_peak", "nock side force at peak", "N",
                 "of the string on the nock across the arrow's line at peak weight, positive left", 3,
                 [](const StateView& v) { return nock_side_force(v.bow, v.draw.peak()); }});
    m.push_back({"side_push", "side push", "%",
                 "side force on the nock summed over the stroke, as a share of the draw force so summed; "
                 "positive left",
                 3, side_push});
    m.push_back({"hand_torque_yaw", "hand torque, yaw", "N m",
                 "torque of the hand on the grip about Z, positive from X to Y", 2,
                 [](const StateView& v) { return v.bow.layout.hand_yaw_torque * 1e-3; }});
    m.push_back({"hand_torque_roll_at_full_draw", "hand torque, roll, at full draw", "N m",
                 "of the hand on the grip that keeps the bow level, about X, positive from Y to Z", 3,
                 [](const StateView& v) { return roll_reaction(v.bow, v.draw.states.back().state) * 1e-3; }});
    return m;
}

double tear_measure(std::string_view id, const StrungBow& strung, const Draw& draw) {
    const std::vector<Measure> all = tear_measures();
    const Measure* measure = find(all, id);
    if (!measure) throw std::invalid_argument(fmt::format("no measure of a tear is called {}", id));
    return measure->value({strung.bow, draw});
}

std::span<const char* const> unseen_by_statics() {
    static constexpr std::array<const char*, 5> sentences{
        "how the release or the fingers let the string go, and the push aside that they give it",
        "the arrow's bending as it is driven off: a weak shaft can tear the same way as a bow out of tune",
        "what the shaft does on the rest while it flies over it, and when the rest drops",
        "the torque of this archer's hand: the model's hand is neutral unless the bow file gives a torque",
        "vanes that touch rest, cables or riser: powder on them shows it, no calculation",
    };
    return sentences;
}

}  // namespace limbwright::models
