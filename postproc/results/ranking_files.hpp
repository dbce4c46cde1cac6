#pragma once

#include <filesystem>

#include "models/study/full_draws.hpp"
#include "postproc/results/ranking_results.hpp"

/// What a study leaves on disk besides its rows.
namespace limbwright::postproc {

/// Writes ranking.h5, ranking.json; maps of lean and score over the cam offsets, where spacers vary; draw
/// force, nock travel and forgiveness of the draws in full, and each of the best ones in a folder of its own
/// as `limbwright draw` writes it. What an earlier run left there of these and this one does not have is
/// removed.
///
/// @param folder  must be there
/// @param stem    of the bow's file: files of a draw are named after it
/// @return files and folders that were written
/// @throws std::runtime_error if one cannot be written
std::vector<std::filesystem::path> write_ranking_files(const RankingResults& results,
                                                       const std::vector<models::FullDraw>& draws,
                                                       const std::filesystem::path& folder,
                                                       const std::string& stem);

}  // namespace limbwright::postproc
