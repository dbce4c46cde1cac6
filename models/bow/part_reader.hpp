#pragma once

#include <filesystem>
#include <optional>

#include "models/bow/bow.hpp"
#include "models/input/table_reader.hpp"

/// What riser, limbs and axles have in common in the bow file.
namespace limbwright::models {

inline constexpr Range positive{.above = 0};
inline constexpr Range youngs_moduli{.at_least = 100, .at_most = 1e6};  ///< along a part or a lamina [MPa]
inline constexpr Range moduli_across{.at_least = 10,
                                     .at_most = 1e6};  ///< down to balsa across its grain [MPa]
inline constexpr Range shear_moduli{.at_least = 10, .at_most = 5e5};    ///< [MPa]
inline constexpr Range poissons_ratios{.at_least = 0, .at_most = 0.9};  ///< a lamina's may lie above 0.5

[[nodiscard]] Material material_in(TableReader table);

/// Complains if the contraction across is more than any material's with such moduli: ν₁₂² < E₁/E₂, or else
/// the energy of some strain would be negative.
void complain_if_unstable(TableReader& table, double along, double across, double poisson);

/// The part's `model`; beam where it has none.
[[nodiscard]] PartModel part_model_in(TableReader& table);

/// The part's `mesh`, if it has one; the file is read for shells only. What is wrong with the file is a
/// complaint about the key.
///
/// @param folder  where the file lies
[[nodiscard]] std::optional<PartMesh> part_mesh_in(TableReader& table, PartModel model,
                                                   const std::filesystem::path& folder);

}  // namespace limbwright::models
