#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "postproc/commands/bench_session.hpp"

namespace limbwright::postproc {

struct CureArguments : SessionArguments {
    std::optional<int> pick;      ///< which cure the sheet is for, counted from the first; none: the first
    std::filesystem::path sheet;  ///< to write, .svg or .html; empty: none
    bool json = false;            ///< everything as JSON on standard output instead of tables
};

/// Strings and draws a bow, reads a paper tear, holds common practice against the model, and ranks the
/// changes that answer the tear; writes the bench sheet of one of them. With bench numbers, now or in a log,
/// it is the bow matched to them, and predictions tell how sure they are. With a log, what is new is entered
/// there, and a cure that is picked or has its sheet written is entered as planned.
///
/// @return exit status: 0 done, 1 if the bow could not be strung, drawn or matched, or there is no cure to
/// write a sheet for
/// @throws models::InputError with every complaint about the files, UsageError for options that do not go
/// together
int command_cure(const CureArguments& arguments);

}  // namespace limbwright::postproc
