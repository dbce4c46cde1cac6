#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "models/cure_moves.hpp"

namespace limbwright::postproc {

struct CureArguments {
    std::filesystem::path bow;
    std::filesystem::path tear;      ///< file; empty: the tear is told by the next three
    std::string tail;                ///< "left", "high right", …
    std::optional<double> size;      ///< [mm]
    std::optional<double> distance;  ///< [mm]
    models::CureOptions options;
    int pick = 1;                 ///< which cure the sheet is for, counted from the first
    std::filesystem::path sheet;  ///< to write, .svg or .html; empty: none
    bool json = false;            ///< everything as JSON on standard output instead of tables
};

/// Strings and draws a bow, reads a paper tear, holds common practice against the model, and ranks the
/// changes that answer the tear; writes the bench sheet of one of them.
///
/// @return exit status: 0 done, 1 if the bow could not be strung or drawn, or there is no cure to write a
/// sheet for
/// @throws models::InputError with every complaint about the files, UsageError for options that do not go
/// together
int command_cure(const CureArguments& arguments);

}  // namespace limbwright::postproc
