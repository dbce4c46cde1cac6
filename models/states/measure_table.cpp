#include "models/states/measure_table.hpp"

#include <algorithm>
#include <utility>

#include "models/input/document.hpp"
#include "models/states/draw_measures.hpp"

namespace limbwright::models {

MeasureTable measure_table(const AssembledBow& bow) {
    return {state_measures(bow), draw_measures()};
}

MeasureTable short_draw_measures(const AssembledBow& bow) {
    MeasureTable table = measure_table(bow);
    for (std::vector<Measure>* measures : {&table.states, &table.draw})
        std::erase_if(*measures, [](const Measure& m) { return m.needs == Needs::whole_draw; });
    return table;
}

std::optional<PlacedMeasure> find(const MeasureTable& table, const MeasureKey& key) {
    const Measure* measure = find(table.at(key.at), key.id);
    return measure ? std::optional(PlacedMeasure{*measure, key.at}) : std::nullopt;
}

const Measure* named(const std::vector<Measure>& measures, const std::string& name) {
    const auto found = std::ranges::find(measures, name, &Measure::name);
    return found == measures.end() ? nullptr : &*found;
}

std::vector<std::string> nearest(const MeasureTable& table, const std::string& wrong) {
    std::vector<std::pair<int, std::string>> ranked;
    for (const Measure& m : table.states) ranked.emplace_back(edit_distance(wrong, m.name), m.name);
    for (const Measure& m : table.draw)
        if (!named(table.states, m.name)) ranked.emplace_back(edit_distance(wrong, m.name), m.name);
    std::ranges::stable_sort(ranked, {}, &std::pair<int, std::string>::first);
    std::vector<std::string> names;
    for (const auto& [distance, name] : ranked)
        if (names.size() < 3) names.push_back(name);
    return names;
}

}  // namespace limbwright::models
