#pragma once

#include <cstdint>
#include <vector>

#include "models/bow/bow.hpp"

/// Limbs in hand, chosen and arranged over the pockets.
namespace limbwright::models {

/// Limbs that a bow takes: four, or two solid ones, each of which counts as left and right together.
[[nodiscard]] std::size_t pockets(LimbKind kind);

/// Every choice and arrangement of limbs, each once: limbs of equal number cannot be told apart. In rising
/// order of (top left, top right, bottom left, bottom right).
///
/// @param numbers  deflection numbers in hand, in any order; fewer than pockets give no pairing
[[nodiscard]] std::vector<Pairing> pairings(std::vector<double> numbers, LimbKind kind);

/// How many `pairings` gives, without making them. With c_i limbs of the i-th number and p pockets,
///
///     p! · coefficient of x^p in Π_i Σ_{j ≤ c_i} x^j / j!
[[nodiscard]] std::int64_t count_pairings(std::vector<double> numbers, LimbKind kind);

/// The same if limbs of equal number could be told apart: n! / (n − p)!.
[[nodiscard]] std::int64_t count_arrangements(std::size_t limbs, LimbKind kind);

}  // namespace limbwright::models
