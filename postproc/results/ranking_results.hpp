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

struct RankingResults {
    models::Bow bow;
    models::Study study;
    std::string bow_file, study_file;  ///< their texts, as they were read
    std::vector<models::PlacedMeasure> columns;
    std::vector<models::Setting> settings;  ///< those that vary
    RankedLayout today;
    std::vector<RankedLayout> best;                              ///< best first
    std::vector<SolvedLayout> rows;                              ///< by rising number
    std::vector<std::pair<std::int64_t, std::string>> failures;  ///< layout and cause
    std::vector<std::string> notes;                              ///< sentences about the run
};

/// The measure of a quantity; and the quantity of a row of values.
///
/// @throws std::invalid_argument if the quantity is not among the columns
[[nodiscard]] const models::Measure& measure_of(const RankingResults& results,
                                                const models::Quantity& quantity);
[[nodiscard]] double value_of(const RankingResults& results, const models::Quantity& quantity,
                              const std::vector<double>& values);

/// "none", "keys", "twists", "spacers", "limbs".
[[nodiscard]] std::string_view name_of(models::ReworkKind kind);

/// "none", "keys", "spacers, 4 parts".
[[nodiscard]] std::string to_words(const models::Rework& rework);

/// The varied settings besides limbs and spacers, which are shown as pairing and cam offsets.
[[nodiscard]] std::vector<models::Setting> other_settings(const RankingResults& results);

/// In how a table gives it: the first unit of the setting's dimension; empty for a plain number.
[[nodiscard]] std::string unit_of(const models::Setting& setting);
[[nodiscard]] double in_its_unit(double inside, const models::Setting& setting);

/// Today's layout and the best ones, then what the score means, which limits are broken, how the best layout
/// is built and what happened in the run. At most 100 characters wide.
///
/// @throws std::invalid_argument if a quantity of the study is not among the columns
[[nodiscard]] std::string to_text(const RankingResults& results);

}  // namespace limbwright::postproc
