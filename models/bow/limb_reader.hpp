#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "models/bow/bow.hpp"
#include "models/input/table_reader.hpp"

namespace limbwright::models {

/// By the names that plies call them.
using Laminae = std::map<std::string, solver::Lamina>;

/// The tables under [lamina], each with its constants. Left out may be
/// - `across` and `poisson`, both: the lamina is isotropic in its plane, ν = E/(2G) − 1;
/// - `shear_13`: it equals `shear_modulus`;
/// - `shear_23`: E₂/(2(1 + 0.4)), as fibres that lie alike in 2 and 3 make it, 0.4 being near ν₂₃ of glass or
/// carbon in
///   epoxy; without `across` it equals `shear_modulus`.
[[nodiscard]] Laminae laminae_in(TableReader table);

/// A limb from its table, a mesh from a file in the folder included.
[[nodiscard]] Limb limb_in(TableReader table, const Laminae& laminae, const std::filesystem::path& folder);

}  // namespace limbwright::models
