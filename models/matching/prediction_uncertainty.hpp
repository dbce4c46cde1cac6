#pragma once

#include <vector>

#include "models/matching/bench_file.hpp"
#include "models/matching/calibrated_bow.hpp"
#include "models/tuning/cure_search.hpp"

namespace limbwright::models {

/// Cures with what a match tells of them: how sure today's and the predicted measures are, and the foresight
/// of each.
///
/// To first order: with S the slopes of the measures by the parameters (`BenchModel::slopes`, in the tune's
/// own states) and P the covariance of the parameters' errors, S P Sᵀ; of a change (S₂ − S₁) P (S₂ − S₁)ᵀ.
/// What a cure moves string and cables by is taken as known. Limbs that the match does not know are as sure
/// as their numbers, the arrow rest, where it was not measured, as the bow file. Measures that need more
/// states than brace and full draw get none.
///
/// @param cures  of `solver`, which solves `today`'s bow as corrected
/// @param measured  today: draw weights are predicted at the draw lengths of these
/// @throws std::runtime_error if a cure's bow cannot be strung and drawn anew
[[nodiscard]] Cures with_foresight(Cures cures, const TuneSolver& solver, const Corrections& today,
                                   const std::vector<Measurement>& measured, int threads = 1);

}  // namespace limbwright::models
