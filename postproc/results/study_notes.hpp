#pragma once

#include <span>
#include <string>
#include <vector>

#include "models/study/search.hpp"
#include "models/study/spot_check.hpp"

/// What a person should know of how a ranking came about, in sentences. Nothing in them depends on how the
/// work was divided.
namespace limbwright::postproc {

/// Size and make-up of the product, string and cables, and which full draw is meant.
[[nodiscard]] std::vector<std::string> study_notes(const models::StudyBase& base);

/// How many layouts were solved, and what the others were judged by.
[[nodiscard]] std::vector<std::string> search_notes(const models::StudyBase& base,
                                                    const models::StudySearch& search);

/// How far rows lie from those of the plain engine; a warning that names those that differ.
[[nodiscard]] std::vector<std::string> cold_notes(const models::StudyBase& base,
                                                  const models::ColdCheck& check);

/// How many rows failed, and the most frequent causes, figures aside. None if none failed.
[[nodiscard]] std::vector<std::string> failure_notes(std::span<const models::LayoutRow> rows);

}  // namespace limbwright::postproc
