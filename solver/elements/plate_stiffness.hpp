#pragma once

#include "solver/numbers/algebra.hpp"

namespace limbwright::solver {

/// Stiffness of a wall, 8×8:
///
///     (N₁₁, N₂₂, N₁₂, M₁₁, M₂₂, M₁₂, Q₁, Q₂) = C (ε₁₁, ε₂₂, 2ε₁₂, κ₁₁, κ₂₂, 2κ₁₂, γ₁, γ₂)
///
/// Axis 3 is the wall's normal, axes 1 and 2 lie in it. The strain at height z above the reference surface,
/// along axis 3, is ε + z κ; N and Q are forces [N/mm], M moments [N] per length, so that C's entries are
/// [N/mm], [N], [N mm].
using WallStiffness = Eigen::Matrix<double, 8, 8>;

}  // namespace limbwright::solver
