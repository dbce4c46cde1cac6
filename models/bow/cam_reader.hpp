#pragma once

#include <filesystem>

#include "models/bow/bow.hpp"
#include "models/input/table_reader.hpp"

namespace limbwright::models {

/// On an idler the string runs through and ends at no post, so that its track needs no anchor.
enum class CamRole { cam, idler };

/// A cam from its table, grooves from CSV files in the folder included.
[[nodiscard]] Cam cam_in(TableReader table, CamRole role, const std::filesystem::path& folder,
                         Complaints& complaints);

}  // namespace limbwright::models
