#pragma once

#include "models/states/measures.hpp"

namespace limbwright::models {

/// Measures that a whole draw has: peaks, let-off, what happens near brace or at full draw only; in the units
/// of their rows.
[[nodiscard]] std::vector<Measure> draw_measures();

}  // namespace limbwright::models
