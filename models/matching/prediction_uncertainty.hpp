#pragma once

#include <string>
#include <vector>

#include "models/matching/bench_file.hpp"
#include "models/matching/calibrated_bow.hpp"
#include "models/tuning/cure_search.hpp"

namespace limbwright::models {

/// What the match tells of one cure besides its measures.
struct Foresight {
    std::vector<Measurement> predicted;  ///< what each bench quantity will be measured as, `rounded`
    std::string measure_first;  ///< name of the quantity, not measured today, that tells most of the cure
    double sure_then = 0;       ///< standard deviation of the share answered once it is measured
};

/// Tells how sure cures' predictions are, given a match: standard deviations of today's and of the predicted
/// measures, of the share answered, and what each cure's bow is predicted to show at the bench.
///
/// To first order: with S the slopes of the measures by the parameters (`BenchModel::slopes`, in the tune's
/// own states) and P the covariance of the parameters' errors, S P Sᵀ; of a change (S₂ − S₁) P (S₂ − S₁)ᵀ.
/// What a cure moves string and cables by is taken as known. Limbs that the match does not know are as sure
/// as their numbers, the arrow rest, where it was not measured, as the bow file. Measures that need more
/// states than brace and full draw get none.
///
/// @param cures  of `solver`, which solves `today`'s bow as corrected
/// @param measured  today: draw weights are predicted at the draw lengths of these
/// @return  for each of the ranked cures
/// @throws std::runtime_error if a cure's bow cannot be strung and drawn anew
std::vector<Foresight> tell_sureness(Cures& cures, const TuneSolver& solver, const Corrections& today,
                                     const std::vector<Measurement>& measured);

}  // namespace limbwright::models
