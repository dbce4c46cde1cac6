#include "models/matching/observables.hpp"

#include <algorithm>
#include <stdexcept>

#include "models/matching/calibration_parameters.hpp"
#include "models/states/draw_measures.hpp"

namespace limbwright::models {
namespace {

/// A measure that is read off the state at brace alone.
std::function<double(const BenchReading&)> at_brace(const std::string& measure) {
    for (const DrawMeasure& m : draw_measures())
        if (m.name == measure)
            return [value = m.value](const BenchReading& r) { return value(r.strung, Draw{}); };
    throw std::logic_error("there is no measure " + measure);
}

double tip_distance(const BenchReading& r, End end, bool left) {
    const AssembledBow& bow = r.strung.bow;
    const AxleParts& axle = bow.axle(end);
    const solver::State& state = r.strung.brace.state;
    const Vec3 tip = bow_frame(bow, state).inverse() * state.at(left ? axle.left : axle.right).position;
    return sign(end) * tip.z();
}

double timing(const AssembledBow& bow, const solver::State& state) {
    return cam_turn(bow, End::top, state) - cam_turn(bow, End::bottom, state);
}

}  // namespace

std::vector<BenchQuantity> bench_quantities(const Bow& bow) {
    using namespace bench_sigma;
    const Dimension &length = units::length, &force = units::force;
    std::vector<BenchQuantity> all;
    all.push_back({"axle_to_axle", "axle-to-axle", &length, tape, "between the axles' middles at brace",
                   false, at_brace("axle-to-axle")});
    all.push_back({"brace_height", "brace height", &length, tape,
                   "from the pivot point to the string along the riser's X at brace", false,
                   at_brace("brace height")});
    all.push_back({"nocking_point_height", "nocking-point height", &length, square,
                   "above the pivot point along the riser's Z at brace", false,
                   at_brace("nocking-point height")});
    for (const End end : {End::top, End::bottom}) {
        const std::string which = name(end);
        all.push_back(
            {"straightedge_gap_" + which, "straightedge gap, " + which, &length, straightedge,
             "at brace and the nocking point's height, from the string to a straightedge laid along "
             "the cam's string track, positive when the straightedge passes left of the string",
             false, at_brace("straightedge gap, " + which)});
    }
    for (const End end : {End::top, End::bottom})
        for (const bool left : {true, false}) {
            const std::string which = name(end), flank = left ? "left" : "right";
            all.push_back({"tip_height_" + which + "_" + flank, "limb-tip height, " + which + " " + flank,
                           &length, tape,
                           "of the axle at that limb tip from the pivot point along the riser's Z at brace: "
                           "up for the top, down for the bottom, both positive",
                           false, [=](const BenchReading& r) { return tip_distance(r, end, left); }});
        }
    if (bow.cables.system != CableSystem::single_cam) {
        all.push_back({"timing_brace", "timing at brace", &units::angle, turn * units::degree,
                       "turn of the top cam less turn of the bottom cam at brace", false,
                       [](const BenchReading& r) { return timing(r.strung.bow, r.strung.brace.state); }});
        all.push_back({"timing_full_draw", "timing at full draw", &units::angle, turn * units::degree,
                       "turn of the top cam less turn of the bottom cam at full draw", false,
                       [](const BenchReading& r) { return timing(r.strung.bow, r.full_draw); }});
    }
    all.push_back({"peak_weight", "peak weight", &force, scale, "largest draw force", false,
                   [](const BenchReading& r) { return r.peak; }});
    all.push_back({"holding_weight", "holding weight", &force, scale, "draw force at full draw", false,
                   [](const BenchReading& r) { return r.holding; }});
    all.push_back({"let_off", "let-off", &percent, bench_sigma::let_off, "1 − holding weight / peak weight",
                   false, [](const BenchReading& r) { return 100 * (1 - r.holding / r.peak); }});
    all.push_back({"draw_weight", "draw weight", &force, scale, "draw force at a draw length", true,
                   [](const BenchReading& r) { return r.force_at; }});
    all.push_back({"rest_height", "arrow rest, height", &length, square,
                   "of the arrow rest above the pivot point, along the riser's Z", false,
                   [](const BenchReading& r) { return r.strung.bow.bow.shooter.rest.z(); }});
    all.push_back({"rest_lateral", "arrow rest, lateral", &length, square,
                   "of the arrow rest from the bow's plane, positive left", false,
                   [](const BenchReading& r) { return r.strung.bow.bow.shooter.rest.y(); }});
    return all;
}

const BenchQuantity* find(const std::vector<BenchQuantity>& quantities, const std::string& key) {
    const auto found = std::ranges::find(quantities, key, &BenchQuantity::key);
    return found == quantities.end() ? nullptr : &*found;
}

}  // namespace limbwright::models
