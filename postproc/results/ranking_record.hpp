#pragma once

#include <nlohmann/json_fwd.hpp>

#include "postproc/output/data_tree.hpp"
#include "postproc/results/ranking_results.hpp"

/// A study's ranking as other programs read it.
namespace limbwright::postproc {

/// A whole study as it is filed; nothing in it depends on when or in how many parts it was solved:
///
///     /            attributes limbwright_version, schema_version; notes
///     /input       bow_file, study_file                                              texts
///     /columns     measures, places, units, definitions                              (column)
///     /settings    names, units, definitions                                         (setting)
///     /layouts     all solved: number, score, broken_limits, rework_kind, rework_parts (layout),
///                  values (layout, column), settings (layout, setting)
///     /today, /best  the same of today's layout and of the best ones, with pairing (layout, pocket),
///                  cam_offsets (layout, end), spacers and broken limits in words
///     /failures    number, cause
///
/// @throws std::invalid_argument if a layout has not one value for each column
[[nodiscard]] Group to_tree(const RankingResults& results);

/// What the text for people says, at full precision; NaN and infinity as null.
///
/// @throws std::invalid_argument if a quantity of the study is not among the columns
[[nodiscard]] nlohmann::ordered_json to_json(const RankingResults& results);

}  // namespace limbwright::postproc
