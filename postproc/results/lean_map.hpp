#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/results/ranking_results.hpp"

/// One value over where the spacers put both cams.
namespace limbwright::postproc {

/// Offsets of both cams [mm, positive left].
struct CamOffsets {
    double top = 0, bottom = 0;
};

struct LeanMap {
    std::string title;  ///< names the value
    std::string unit;   ///< empty for a pure number
    int digits = 2;
    std::vector<double> top, bottom;  ///< cam offsets, rising [mm]
    std::vector<std::vector<double>>
        values;  ///< for each bottom offset one value for each top offset; NaN: none
    std::optional<CamOffsets> today, best;  ///< marked where they stand in the map
};

/// Map of the layouts that differ from the best one by the cam offsets alone, by one column's values. Without
/// a best layout, or where no spacers vary, the map is empty.
///
/// @param column  index among the columns
[[nodiscard]] LeanMap lean_map(const RankingResults& results, std::size_t column);

/// The same of the score.
[[nodiscard]] LeanMap score_map(const RankingResults& results);

/// Shaded cells, darker for a larger value, with the value in each where there are at most 12 × 12.
///
/// @throws std::invalid_argument if there is not one value for each pair of offsets
[[nodiscard]] std::string to_svg(const LeanMap& map);

}  // namespace limbwright::postproc
