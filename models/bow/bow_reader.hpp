#pragma once

#include <filesystem>

#include "models/bow/bow.hpp"
#include "models/input/document.hpp"

namespace limbwright::models {

/// The bow that the document describes, values checked one by one and against each other. What could not be
/// read is NaN or empty and has left a complaint in the document; whoever calls must look.
///
/// @param folder  where the files of grooves and meshes lie
[[nodiscard]] Bow bow_in(Document& document, const std::filesystem::path& folder);

}  // namespace limbwright::models
