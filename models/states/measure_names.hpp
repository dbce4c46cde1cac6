#pragma once

#include <string>
#include <vector>

#include "models/bow/bow.hpp"

/// Names of measures, for studies that ask for some of them.
namespace limbwright::models {

/// A measure's name and unit.
struct MeasureName {
    std::string name, unit;
};

/// What brace, peak and full draw tell of a bow; measures that need all states of a draw are left out. A name
/// may stand in both lists: "stored energy".
struct MeasureNames {
    std::vector<MeasureName> states;  ///< of each state of a draw
    std::vector<MeasureName> draw;    ///< of a draw as a whole
};

[[nodiscard]] MeasureNames measure_names(const Bow& bow);

/// Null if it is not there.
[[nodiscard]] const MeasureName* find(const std::vector<MeasureName>& measures, const std::string& name);

/// The three names that need fewest changes to become the wrong one, nearest first.
[[nodiscard]] std::vector<std::string> nearest(const MeasureNames& measures, const std::string& wrong);

}  // namespace limbwright::models
