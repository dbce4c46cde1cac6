#pragma once

#include <filesystem>
#include <optional>

namespace limbwright::postproc {

struct MatchArguments {
    std::filesystem::path bow, bench;
    std::optional<std::filesystem::path> write;  ///< where the matched bow file goes, grooves beside it
    bool force = false;                          ///< write over a file that is there
    bool json = false;                           ///< everything as JSON on standard output instead of tables
};

/// Matches a bow to bench measurements and prints which of its numbers they tell, how well each measurement
/// is met, what contradicts, and what to measure next.
///
/// @return exit status: 0 done, 1 if the bow could not be strung, drawn or matched
/// @throws models::InputError with every complaint about a file, UsageError for a file that is there already
int command_match(const MatchArguments& arguments);

}  // namespace limbwright::postproc
