#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "models/bow/settings.hpp"
#include "models/study/ranking.hpp"
#include "postproc/output/table.hpp"

/// A study's ranking, and what a person reads of it.
namespace limbwright::postproc {

/// Decimal places of a cam's offset [mm]: half of a difference of spacers.
inline constexpr int offset_digits = 3;

/// A ranking with what is needed to tell it.
struct RankingResults : models::Ranking {
    models::Bow bow;
    models::Study study;
    std::string bow_file{}, study_file{};  ///< their texts, as they were read
    std::vector<models::PlacedMeasure> columns;
    std::vector<models::Setting> settings;  ///< those that vary
    std::vector<std::string> notes{};       ///< sentences about the run
};

/// Everything but the notes and the files' texts.
[[nodiscard]] RankingResults results_of(const models::StudyBase& base, models::Ranking ranking);

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

/// What a torque of the hand does at full draw, of today's layout and the best ones.
///
/// @param count  of the best ones
[[nodiscard]] Table forgiveness_table(const RankingResults& results, int count);

}  // namespace limbwright::postproc
