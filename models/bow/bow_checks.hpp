#pragma once

#include "models/bow/bow.hpp"
#include "models/input/input_error.hpp"

/// What the parts of a bow must be to each other. Single values are checked where they are read.
namespace limbwright::models {

/// Adds a complaint for everything that does not fit together, by the bow file's keys. A check that hangs on
/// a value that is NaN, or on a key about which there is a complaint already, is left out.
void check(const Bow& bow, Complaints& complaints);

}  // namespace limbwright::models
