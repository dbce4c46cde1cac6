#pragma once

#include <filesystem>
#include <optional>

#include "models/study/study.hpp"

namespace limbwright::postproc {

struct EffectsArguments {
    std::filesystem::path bow;
    models::LengthRule lengths = models::LengthRule::kept;
    std::optional<double> spacer;  ///< thickness whose move is one step [mm]; none: the thinnest in the bow
    bool all = false;              ///< every measure instead of those that a tuner looks at first
    bool json = false;             ///< everything as JSON on standard output instead of tables
};

/// Strings and draws a bow and prints how one practical step of every setting changes its measures.
///
/// @return exit status: 0 done, 1 if the bow could not be strung or drawn to the end
/// @throws models::InputError with every complaint about the file, UsageError for a spacer that cannot be
int command_effects(const EffectsArguments& arguments);

}  // namespace limbwright::postproc
