#pragma once

#include "models/bow/bow.hpp"
#include "models/input/input_error.hpp"
#include "models/study/study.hpp"

namespace limbwright::models {

/// What a study's parts must be to each other and to the bow: enough limbs, spacers that fill the gaps, a
/// product that can be gone through. Complains about keys of the study file; stays silent about what there
/// are complaints already.
void check(const Study& study, const Bow& bow, Complaints& complaints);

}  // namespace limbwright::models
