#pragma once

#include <string>
#include <vector>

#include "models/states/measures.hpp"

/// All measures of a bow in one table.
namespace limbwright::models {

/// Id and name of a measure are unique among those of states and among those of a draw; the same id or name
/// may stand in both: "stored energy".
struct MeasureTable {
    std::vector<Measure> states;  ///< of each state of a draw
    std::vector<Measure> draw;    ///< of a draw as a whole

    [[nodiscard]] const std::vector<Measure>& at(DrawPlace place) const {
        return place == DrawPlace::whole ? draw : states;
    }
};

[[nodiscard]] MeasureTable measure_table(const AssembledBow& bow);

/// What brace, peak and full draw tell: measures that need all states of a draw are left out.
[[nodiscard]] MeasureTable short_draw_measures(const AssembledBow& bow);

/// A measure of the table at its place; none if the bow has no such measure: an idler does not turn.
[[nodiscard]] std::optional<PlacedMeasure> find(const MeasureTable& table, const MeasureKey& key);

/// By the name that people give it in a file; null if there is none.
[[nodiscard]] const Measure* named(const std::vector<Measure>& measures, const std::string& name);

/// The three names that need fewest changes to become the wrong one, nearest first.
[[nodiscard]] std::vector<std::string> nearest(const MeasureTable& table, const std::string& wrong);

}  // namespace limbwright::models
