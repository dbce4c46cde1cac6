#pragma once

namespace limbwright::postproc {

/// Reads the command line, runs its command, tells mistakes on standard error.
///
/// @return the program's exit status: 0 done, 1 the bow could not be solved or a file not written, 2 the
/// input is wrong
int run(int argument_count, char** arguments);

}  // namespace limbwright::postproc
