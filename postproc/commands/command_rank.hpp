#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "postproc/output/progress.hpp"

namespace limbwright::postproc {

struct RankArguments {
    std::filesystem::path study;
    std::filesystem::path folder;  ///< empty: in the current folder, named after the study's file
    std::optional<int> threads;    ///< none: all cores that the process may use
    std::string shard;             ///< "2/8" or "auto"; empty: the whole study
    bool files = true;             ///< write files at all
    bool json = false;             ///< the ranking as JSON on standard output instead of the table
    ProgressStyle progress = ProgressStyle::automatic;
};

/// Solves a study's layouts and ranks them; prints the best ones, writes HDF5, JSON, maps and pictures. Rows
/// are stored as they are solved, so that the same command goes on where it was stopped, and what it writes
/// in the end does not depend on stops, threads or shares.
///
/// @return exit status: 0 done, 1 if today's bow could not be strung or drawn, 130 if it was stopped
/// @throws models::InputError with every complaint about study and bow, UsageError for a share that cannot be
int command_rank(const RankArguments& arguments);

}  // namespace limbwright::postproc
