#pragma once

#include "solver/system/block_matrix.hpp"
#include "solver/system/system.hpp"

namespace limbwright::solver {

/// Total energy [N mm].
[[nodiscard]] double total_energy(const System& system, const State& state);

/// Gradient of the total energy by all increments: what the holds must supply at held freedoms, the residual
/// at free ones [N, N mm].
[[nodiscard]] VecX total_gradient(const System& system, const State& state);

/// Gradient as above; the tangent is filled anew. `sizes` gets, per freedom, the sum of the absolute
/// contributions: the scale against which a residual is small.
void assemble(const System& system, const State& state, VecX& gradient, VecX& sizes, BlockMatrix& tangent);

}  // namespace limbwright::solver
