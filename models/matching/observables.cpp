#include "models/matching/observables.hpp"

#include <algorithm>

#include "models/matching/calibration_parameters.hpp"
#include "models/states/measure_table.hpp"

namespace limbwright::models {
namespace {

Measure tip_height(End end, bool left) {
    const std::string which = name(end), flank = left ? "left" : "right";
    return {"tip_height_" + which + "_" + flank,
            "limb-tip height, " + which + " " + flank,
            "mm",
            "of the axle at that limb tip from the pivot point along the riser's Z at brace: up for the top, "
            "down for the bottom, both positive",
            1,
            [=](const StateView& v) {
                const AxleParts& axle = v.bow.axle(end);
                const Vec3 tip = bow_frame(v.bow, v.brace()).inverse() *
                                 v.brace().at(left ? axle.left : axle.right).position;
                return sign(end) * tip.z();
            }};
}

/// What the table of measures has no row for.
std::vector<Measure> bench_measures() {
    std::vector<Measure> m;
    for (const End end : {End::top, End::bottom})
        for (const bool left : {true, false}) m.push_back(tip_height(end, left));
    m.push_back({"draw_weight", "draw weight", "N", "draw force at a draw length", 1,
                 [](const StateView& v) { return v.draw.states.back().force; }});
    m.push_back({"rest_height", "arrow rest, height", "mm",
                 "of the arrow rest above the pivot point, along the riser's Z", 1,
                 [](const StateView& v) { return v.bow.bow.shooter.rest.z(); }});
    m.push_back({"rest_lateral", "arrow rest, lateral", "mm",
                 "of the arrow rest from the bow's plane, positive left", 1,
                 [](const StateView& v) { return v.bow.bow.shooter.rest.y(); }});
    return m;
}

}  // namespace

double BenchQuantity::value(const AssembledBow& bow, const ShortDraw& states) const {
    return models::value(of, bow, states) * factor();
}

std::vector<BenchQuantity> bench_quantities(const Bow& bow) {
    using namespace bench_sigma;
    const Dimension &length = units::length, &force = units::force, &angle = units::angle;
    MeasureTable table = measure_table(assemble(bow));
    std::ranges::copy(bench_measures(), std::back_inserter(table.draw));
    std::vector<BenchQuantity> all;
    const auto add = [&](const char* key, const Dimension& dimension, double sigma) {
        all.push_back({key, *find(table, {key, DrawPlace::whole}), &dimension, sigma});
    };
    add("axle_to_axle", length, tape);
    add("brace_height", length, tape);
    add("nocking_point_height", length, square);
    add("straightedge_gap_top", length, straightedge);
    add("straightedge_gap_bottom", length, straightedge);
    add("tip_height_top_left", length, tape);
    add("tip_height_top_right", length, tape);
    add("tip_height_bottom_left", length, tape);
    add("tip_height_bottom_right", length, tape);
    for (const auto& [key, at] :
         {std::pair{"timing_brace", DrawPlace::brace}, {"timing_full_draw", DrawPlace::full_draw}})
        if (const auto timing = find(table, {"timing_turns", at}))
            all.push_back({key, *timing, &angle, turn * units::degree});
    add("peak_weight", force, scale);
    add("holding_weight", force, scale);
    add("let_off", percent, bench_sigma::let_off);
    add("draw_weight", force, scale);
    all.back().at_a_draw = true;
    add("rest_height", length, square);
    add("rest_lateral", length, square);
    return all;
}

const BenchQuantity* find(const std::vector<BenchQuantity>& quantities, const std::string& key) {
    const auto found = std::ranges::find(quantities, key, &BenchQuantity::key);
    return found == quantities.end() ? nullptr : &*found;
}

}  // namespace limbwright::models
