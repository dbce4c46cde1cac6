#pragma once

#include <map>
#include <string>

#include "models/bow/part_table.hpp"

/// What the bow file says of riser, pockets, limbs and axles, key by key.
namespace limbwright::models {

inline constexpr Range positive{.above = 0};
inline constexpr Range on_the_bow{.at_least = -1500, .at_most = 1500};  ///< [mm]

/// By the names that plies call them.
using Laminae = std::map<std::string, solver::Lamina>;

void describe(PartTable& table, Material& material);

/// A lamina's constants. Left out may be
/// - `across` and `poisson`, both: the lamina is isotropic in its plane, ν = E/(2G) − 1;
/// - `shear_13`: it equals `shear_modulus`;
/// - `shear_23`: E₂/(2(1 + 0.4)), as fibres that lie alike in 2 and 3 make it, 0.4 being near ν₂₃ of glass or
///   carbon in epoxy; without `across` it equals `shear_modulus`.
void describe(PartTable& table, solver::Lamina& lamina);

void describe(PartTable& table, Riser& riser);
void describe(PartTable& table, Pocket& pocket);
/// Plies tell their lamina by its name.
void describe(PartTable& table, Limb& limb);
void describe(PartTable& table, Axle& axle);

}  // namespace limbwright::models
