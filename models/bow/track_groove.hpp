#pragma once

#include <string>

#include "models/bow/bow.hpp"
#include "models/input/input_error.hpp"

namespace limbwright::models {

/// The smooth curve of a track: the one it carries, else fitted now to its circle, traced points or table.
///
/// @throws std::invalid_argument, with a sentence, if the shape makes no convex groove
[[nodiscard]] std::shared_ptr<const solver::Groove> groove_of(const Track& track);

/// Gives every track of a cam its smooth curve, or complains about its shape.
///
/// @param key  of the cam in the bow file: "cam.top"
void fit_grooves(Cam& cam, const std::string& key, Complaints& complaints);

}  // namespace limbwright::models
