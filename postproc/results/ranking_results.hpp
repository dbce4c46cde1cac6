#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/bow/settings.hpp"
#include "models/study/objective.hpp"
#include "models/study/rework_effort.hpp"
#include "models/study/study.hpp"

/// A study's ranking, and what a person reads of it.
namespace limbwright::postproc {

/// Decimal places of a cam's offset [mm]: half of a difference of spacers.
inline constexpr int offset_digits = 3;

/// A layout with all that a person asks about it.
struct RankedLayout {
    std::int64_t number = 0;  ///< in the product; negative: not of this product, as today's may be
    models::Layout layout;
    std::vector<double> values;  ///< one for each column
    models::Score score;
    models::Rework rework;  ///< from today's layout
};

/// One of all layouts that were solved, as numbers only: there may be a hundred thousand of them.
struct SolvedLayout {
    std::int64_t number = 0;
    std::vector<double> settings;  ///< one for each varied setting, inside units
    std::vector<double> values;    ///< one for each column
    double score = 0;
    int broken_limits = 0;
    models::Rework rework;
};

struct RankedColumn {
    models::RecordedMeasure column;
    std::string definition;  ///< of its measure
    int digits = 2;          ///< behind the decimal point, in the terminal
};

struct RankingResults {
    models::Bow bow;
    models::Study study;
    std::string bow_file, study_file;  ///< their texts, as they were read
    std::vector<RankedColumn> columns;
    std::vector<models::Setting> settings;  ///< those that vary
    RankedLayout today;
    std::vector<RankedLayout> best;                              ///< best first
    std::vector<SolvedLayout> rows;                              ///< by rising number
    std::vector<std::pair<std::int64_t, std::string>> failures;  ///< layout and cause
    std::vector<std::string> notes;                              ///< sentences about the run
};

/// "cam lean, top at full draw", "cam lean, top less cam lean, bottom at brace".
[[nodiscard]] std::string to_words(const models::Quantity& quantity);

/// The column of a quantity's own measure; and the quantity of a row of values.
///
/// @throws std::invalid_argument if the quantity is not among the columns
[[nodiscard]] const RankedColumn& column_of(const RankingResults& results, const models::Quantity& quantity);
[[nodiscard]] double value_of(const RankingResults& results, const models::Quantity& quantity,
                              const std::vector<double>& values);

/// The varied settings besides limbs and spacers, which are shown as pairing and cam offsets.
[[nodiscard]] std::vector<models::Setting> other_settings(const RankingResults& results);

/// Today's layout and the best ones, then what the score means, which limits are broken, how the best layout
/// is built and what happened in the run. At most 100 characters wide.
///
/// @throws std::invalid_argument if a quantity of the study is not among the columns
[[nodiscard]] std::string to_text(const RankingResults& results);

}  // namespace limbwright::postproc
