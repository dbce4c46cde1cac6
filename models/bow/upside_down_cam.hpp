#pragma once

#include "models/bow/bow.hpp"

namespace limbwright::models {

/// The cam's mirror image through the horizontal plane, V to −V, as the bottom cam of a bow with two alike is
/// the image of the top one. Points and directions come in reversed order, so that they run round the groove,
/// or rise, as before.
[[nodiscard]] Cam flipped(const Cam& cam);

/// Whether a cam is the other's mirror image, whatever its files are called.
[[nodiscard]] bool is_upside_down(const Cam& cam, const Cam& other);

}  // namespace limbwright::models
