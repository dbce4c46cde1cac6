#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/input/input_error.hpp"

/// Grooves as CSV files beside the bow file: one row per point, blank lines and lines from "#" on skipped.
namespace limbwright::models {

/// Header "u_mm,v_mm"; points on the cable's centre line from the axle, in order round the groove.
///
/// @param shown  the file's name for messages
/// @param key    the bow file's key that names it; a missing file is a complaint about that key
[[nodiscard]] Track::Traced read_traced(const std::filesystem::path& file, const std::string& shown,
                                        const std::string& key, Complaints& complaints);

/// Header "direction_deg,distance_mm"; directions of the tangent line's normal, rising.
[[nodiscard]] Track::Support read_support(const std::filesystem::path& file, const std::string& shown,
                                          const std::string& key, Complaints& complaints);

/// What `read_traced` and `read_support` read back: to the same bits, but for the last one or two of
/// directions.
[[nodiscard]] std::string to_csv(const Track::Traced& traced);
[[nodiscard]] std::string to_csv(const Track::Support& support);

}  // namespace limbwright::models
