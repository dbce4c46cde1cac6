#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "models/matching/tear_answer.hpp"

/// What the model makes of a tear, and the cures, for people and for programs.
namespace limbwright::postproc {

/// "92 %", with its standard deviation where a match tells it "92 ± 8 %".
[[nodiscard]] std::string answered_text(const models::Cure& cure);

/// Reading, practice and cures in lines of at most 100 characters.
[[nodiscard]] std::string to_text(const models::TearAnswer& answer);

/// The same and every measure of every cure, before and after; the steps at the bench of each.
[[nodiscard]] nlohmann::ordered_json to_json(const models::TearAnswer& answer);

}  // namespace limbwright::postproc
