#include "models/study/recorded_measures.hpp"

#include <algorithm>

namespace limbwright::models {

std::vector<PlacedMeasure> columns_of(const Study& study, const AssembledBow& bow) {
    const MeasureTable table = short_draw_measures(bow);
    std::vector<PlacedMeasure> columns;
    const auto add = [&](const std::string& id, DrawPlace at) {
        const MeasureKey key{id, at};
        const std::optional<PlacedMeasure> column = find(table, key);
        // An idler does not turn.
        if (column && std::ranges::find(columns, key, &PlacedMeasure::key) == columns.end())
            columns.push_back(*column);
    };
    for (const char* id : {"axle_to_axle", "brace_height", "straightedge_gap_top", "straightedge_gap_bottom"})
        add(id, DrawPlace::whole);
    for (const DrawPlace at : {DrawPlace::brace, DrawPlace::full_draw})
        for (const char* id : {"lean_top", "lean_bottom"}) add(id, at);
    add("draw_force", DrawPlace::peak);
    for (const char* id :
         {"draw_force", "toe_top", "toe_bottom", "nock_travel_lateral", "nock_travel_vertical",
          "timing_turns", "forgiveness_arrow_yaw", "forgiveness_nock_travel"})
        add(id, DrawPlace::full_draw);
    const auto add_quantity = [&](const Quantity& q) {
        add(q.measure, q.at);
        if (!q.less.empty()) add(q.less, q.at);
    };
    for (const Aim& aim : study.aims) add_quantity(aim.quantity);
    for (const Limit& limit : study.limits) add_quantity(limit.quantity);
    return columns;
}

double value(const PlacedMeasure& measure, const AssembledBow& bow, const ShortDraw& states) {
    const std::size_t index = measure.at == DrawPlace::peak        ? states.peak
                              : measure.at == DrawPlace::full_draw ? states.draw.states.size() - 1
                                                                   : 0;
    return measure.measure.value({bow, states.draw, index});
}

bool needs(const std::vector<PlacedMeasure>& columns, Needs what) {
    return std::ranges::any_of(columns, [&](const PlacedMeasure& m) { return m.measure.needs == what; });
}

bool needs(const std::vector<PlacedMeasure>& columns, Needs what, DrawPlace place) {
    return std::ranges::any_of(columns, [&](const PlacedMeasure& m) {
        const DrawPlace at = m.at == DrawPlace::whole ? DrawPlace::full_draw : m.at;
        return m.measure.needs == what && at == place;
    });
}

}  // namespace limbwright::models
