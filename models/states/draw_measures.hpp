#pragma once

#include <functional>
#include <string>
#include <vector>

#include "models/states/draw.hpp"

namespace limbwright::models {

/// A number that a whole draw has: peaks, let-off, what happens near brace or at full draw only.
struct DrawMeasure {
    std::string name, unit, definition;
    int digits = 2;
    std::function<double(const StrungBow&, const Draw&)> value;
};

/// The measures of a whole draw, in the units of their rows.
[[nodiscard]] std::vector<DrawMeasure> draw_measures();

}  // namespace limbwright::models
