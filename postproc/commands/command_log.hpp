#pragma once

#include "postproc/commands/bench_session.hpp"

namespace limbwright::postproc {

struct LogArguments : SessionArguments {
    bool json = false;  ///< everything as JSON on standard output instead of tables
};

/// Enters measurements and a tear in a bow's log, holds them against what was planned, fits the bow to all
/// measurements of the log and says what to do next. Without anything to enter it says so of the log as it
/// is.
///
/// @return exit status: 0 done, 1 if the bow could not be matched, strung or drawn; what was brought is
/// entered all the same
/// @throws models::InputError with every complaint about the files, UsageError for options that do not go
/// together
int command_log(const LogArguments& arguments);

}  // namespace limbwright::postproc
