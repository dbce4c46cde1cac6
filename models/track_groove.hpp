#pragma once

#include "models/bow.hpp"

namespace limbwright::models {

/// The smooth curve of a track: the one it carries, else fitted now to its circle, traced points or table.
///
/// @throws std::invalid_argument, with a sentence, if the shape makes no convex groove
[[nodiscard]] std::shared_ptr<const solver::Groove> groove_of(const Track& track);

}  // namespace limbwright::models
