#pragma once

#include <string>

#include "models/bow/bow.hpp"
#include "models/bow/groove_names.hpp"

namespace limbwright::models {

/// The bow as a commented bow file that reads back to the same values but for their last one or two bits.
/// Lengths are written in mm, angles in degrees, forces in N. Traced grooves and support functions stay in
/// files of their own, see `groove_files`. A mesh is written as its file's name alone, so that a mirrored
/// bow's text names the mesh that is not mirrored.
[[nodiscard]] std::string bow_to_toml(const Bow& bow);

}  // namespace limbwright::models
