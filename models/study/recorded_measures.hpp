#pragma once

#include "models/states/measure_table.hpp"
#include "models/study/study.hpp"

/// Which numbers a study keeps of every layout, and how they are read off its states.
namespace limbwright::models {

/// What a tuner looks at, and everything that the study's aims and limits ask for, each once.
[[nodiscard]] std::vector<PlacedMeasure> columns_of(const Study& study, const AssembledBow& bow);

/// A few states of a draw: brace first, full draw last.
struct ShortDraw {
    Draw draw;
    std::size_t peak = 0;  ///< the state at the draw of today's peak weight
};

/// A measure read off a few states; it must not need a whole draw.
[[nodiscard]] double value(const PlacedMeasure& measure, const AssembledBow& bow, const ShortDraw& states);

/// Whether one of the columns needs something of the states; of the state at that place. Of a whole draw it
/// is the last state's.
[[nodiscard]] bool needs(const std::vector<PlacedMeasure>& columns, Needs what);
[[nodiscard]] bool needs(const std::vector<PlacedMeasure>& columns, Needs what, DrawPlace place);

}  // namespace limbwright::models
