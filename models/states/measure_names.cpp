#include "models/states/measure_names.hpp"

#include <algorithm>
#include <utility>

#include "models/input/document.hpp"
#include "models/parts/assembled_bow.hpp"
#include "models/states/draw_measures.hpp"
#include "models/states/measures.hpp"

namespace limbwright::models {
namespace {

/// Of the numerics, or of neighbouring states.
bool needs_a_whole_draw(const std::string& measure) {
    static const std::vector<std::string> names{"work",
                                                "energy error",
                                                "residual",
                                                "iterations",
                                                "negative pivots",
                                                "path slope at brace, lateral",
                                                "draw at peak",
                                                "path slope at brace, vertical"};
    return std::ranges::find(names, measure) != names.end();
}

template <class Measure>
std::vector<MeasureName> names_of(const std::vector<Measure>& measures) {
    std::vector<MeasureName> names;
    for (const Measure& measure : measures)
        if (!needs_a_whole_draw(measure.name)) names.push_back({measure.name, measure.unit});
    return names;
}

}  // namespace

MeasureNames measure_names(const Bow& bow) {
    return {names_of(state_measures(assemble(bow))), names_of(draw_measures())};
}

const MeasureName* find(const std::vector<MeasureName>& measures, const std::string& name) {
    const auto found = std::ranges::find(measures, name, &MeasureName::name);
    return found == measures.end() ? nullptr : &*found;
}

std::vector<std::string> nearest(const MeasureNames& measures, const std::string& wrong) {
    std::vector<std::pair<int, std::string>> ranked;
    for (const MeasureName& m : measures.states) ranked.emplace_back(edit_distance(wrong, m.name), m.name);
    for (const MeasureName& m : measures.draw)
        if (!find(measures.states, m.name)) ranked.emplace_back(edit_distance(wrong, m.name), m.name);
    std::ranges::stable_sort(ranked, {}, &std::pair<int, std::string>::first);
    std::vector<std::string> names;
    for (const auto& [distance, name] : ranked)
        if (names.size() < 3) names.push_back(name);
    return names;
}

}  // namespace limbwright::models
