#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "models/matching/prediction_uncertainty.hpp"
#include "models/tuning/cure_search.hpp"
#include "models/tuning/rules_of_thumb.hpp"

/// What the model makes of a tear, and the cures, for people and for programs.
namespace limbwright::postproc {

struct CureResults {
    const models::TuneSolver& solver;
    const models::Tear& tear;
    std::optional<models::ShaftCheck> shaft;  ///< where the arrow is known
    std::vector<models::Practice> practice;
    models::Cures cures;
    std::vector<models::Foresight> foresights{};  ///< of each ranked cure, where the bow was matched
};

/// "92 %", with its standard deviation where a match tells it "92 ± 8 %".
[[nodiscard]] std::string answered_text(const models::Cure& cure);

/// Reading, practice and cures in lines of at most 100 characters.
[[nodiscard]] std::string to_text(const CureResults& results);

/// The same and every measure of every cure, before and after; the steps at the bench of each.
[[nodiscard]] nlohmann::ordered_json to_json(const CureResults& results);

}  // namespace limbwright::postproc
