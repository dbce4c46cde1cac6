#pragma once

#include "models/bow/part_keys.hpp"

namespace limbwright::models {

/// The whole bow file, key by key; `part_keys` has riser, pockets, limbs and axles.
///
/// @param laminae  that the limb's plies name
void describe(PartTable& file, Bow& bow, Laminae& laminae);

}  // namespace limbwright::models
