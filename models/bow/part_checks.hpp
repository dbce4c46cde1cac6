#pragma once

#include "models/bow/bow.hpp"
#include "models/input/input_error.hpp"

/// What the dimensions, cut-outs, plies and meshes of riser and limbs must be to each other; see `check` of
/// the whole bow.
namespace limbwright::models {

/// @param guide  a guide needs a place on a riser's mesh
void check_riser(const Riser& riser, GuideKind guide, Complaints& complaints);

/// @param pairing  a solid limb has one number an end
void check_limb(const Limb& limb, const Pairing& pairing, Complaints& complaints);

}  // namespace limbwright::models
