#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "models/states/beam_shell_comparison.hpp"
#include "postproc/output/table.hpp"

/// Beams and shells of one bow, side by side. Runs are in the order given: the first is the yardstick's
/// rival, the last the yardstick.
namespace limbwright::postproc {

using Runs = std::vector<models::ModelRun>;

/// Size and time of every run.
[[nodiscard]] Table cost_table(const Runs& runs);

/// The measures that a tuner looks at, or all of them, in every run; and by how much the run called "beams"
/// parts from the last one.
[[nodiscard]] Table measures_table(const Runs& runs, bool all);

/// What one limb and half of the riser do alone, in every run.
[[nodiscard]] Table rates_table(const Runs& runs);

/// Where the models part and why, in sentences with figures.
[[nodiscard]] std::vector<std::string> findings(const Runs& runs);

[[nodiscard]] nlohmann::ordered_json to_json(const Runs& runs, const std::string& bow);

}  // namespace limbwright::postproc
