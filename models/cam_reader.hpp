#pragma once

#include <filesystem>

#include "models/bow.hpp"
#include "models/table_reader.hpp"

namespace limbwright::models {

/// A cam from its table, grooves from CSV files in the folder included.
[[nodiscard]] Cam cam_in(TableReader table, const std::filesystem::path& folder, Complaints& complaints);

}  // namespace limbwright::models
