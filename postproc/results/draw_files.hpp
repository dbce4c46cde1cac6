#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "postproc/results/draw_results.hpp"

/// What a draw leaves on disk.
namespace limbwright::postproc {

/// A folder with all those above it.
///
/// @throws std::runtime_error if it cannot be made
void make_folder(const std::filesystem::path& folder);

/// Writes the draw as HDF5, VTK and JSON, all named after the stem, and pictures from the side and from
/// behind, of draw force, lean and nock travel.
///
/// @param folder    must be there
/// @param bow_file  text of the bow's file as it was read
/// @return the files that were written
/// @throws std::runtime_error if one cannot be written
std::vector<std::filesystem::path> write_draw_files(const MeasuredDraw& draw,
                                                    const std::filesystem::path& folder,
                                                    const std::string& stem, const std::string& bow_file);

}  // namespace limbwright::postproc
