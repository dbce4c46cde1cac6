#pragma once

#include <filesystem>
#include <optional>

namespace limbwright::postproc {

struct ReportArguments {
    std::filesystem::path bow;
    std::filesystem::path study;  ///< empty: layouts at hand
    std::filesystem::path tear;   ///< empty: no cures and no sheet
    std::filesystem::path file;   ///< to write; empty: in the current folder, named after the bow's file
    std::optional<int> threads;   ///< none: all cores that the process may use
};

/// Strings and draws a bow and writes all there is to see of it into one HTML file.
///
/// @return exit status: 0 done, 1 if the bow could not be strung or drawn
/// @throws models::InputError with every complaint about the files, UsageError for a file of another kind or
/// a study of another bow
int command_report(const ReportArguments& arguments);

}  // namespace limbwright::postproc
