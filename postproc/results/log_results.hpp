#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "models/matching/outcome_and_advice.hpp"

/// What a bow's log tells after something was entered, for people and for programs.
namespace limbwright::postproc {

struct LogResults {
    const models::Bow& bow;
    const std::vector<models::LogEntry>& log;
    models::Outcome outcome;
    models::Advice advice;
    const models::Match* match = nullptr;  ///< to all measurements of the log; null: there are none
    std::string command;                   ///< to go on with; empty: none
};

/// The log, prediction against outcome, and what to do next, in lines of at most 100 characters.
[[nodiscard]] std::string to_text(const LogResults& results);
[[nodiscard]] nlohmann::ordered_json to_json(const LogResults& results);

}  // namespace limbwright::postproc
