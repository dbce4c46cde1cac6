#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/study/rework_effort.hpp"
#include "models/tuning/before_after.hpp"
#include "models/tuning/candidate_changes.hpp"
#include "models/tuning/tear.hpp"

/// Changes to a bow that answer a tear, solved with the engine and ranked by work.
namespace limbwright::models {

struct Cure {
    std::vector<Work> kinds;  ///< one or two, by rising work
    std::string text;         ///< "arrow rest 2 mm left"
    Layout layout;            ///< the bow afterwards
    LengthRule lengths = LengthRule::kept;
    Rework rework;
    double answered = 0;                     ///< share of what is wanted, see `find_cures`; 1: all of it
    std::vector<CureMeasure> measures;       ///< before and after
    Brace brace;                             ///< where it leaves string and cables
    std::optional<double> answered_sigma{};  ///< standard deviation of `answered`, where a match tells it
};

/// What the model makes of a tear on today's bow, lateral and vertical [deg].
struct Wanted {
    Vec2 change = Vec2::Zero();      ///< of the tail turn, that would answer the tear
    Vec2 directions = Vec2::Zero();  ///< 1 where there is a tear
    Vec2 turn = Vec2::Zero();        ///< tail turn today
    Vec2 angle = Vec2::Zero();       ///< of the tear itself
    bool seen = true;  ///< today's tail turn has the tear's sign in each direction in which there is a tear
};

struct Cures {
    Wanted wanted;
    std::vector<Cure> ranked;        ///< least work first
    std::vector<std::string> notes;  ///< what was tried and does too little, or cannot be
};

/// The change that is wanted of the tail turn (`tear_measures`), in each direction in which there is a tear:
/// to bring it to zero, where the model's bow tears to the same side as the paper shows, by more than 0.05
/// deg. Elsewhere the bow's statics do not explain the tear (`Wanted::seen`), and what is wanted is a turn
/// against it of the tear's own angle.
[[nodiscard]] Wanted wanted_of(const SolvedTune& today, const Tear& tear);

/// Finds cures: a move of the arrow rest, of the nocking point, of the
/// guide, of limb bolts (if asked for), twists of the two cables against each other, of a yoke's legs
/// against each other, other stacks of spacers, other places for the limbs. How far each goes is predicted
/// by the effects of settings, to first order, and rounded to what a bench can do; which spacers and limbs
/// are worth solving likewise; then each is solved. If no single one answers 90 %, the best pairs are solved
/// too. String and cables keep their lengths, but with spacers and limbs, whose rebuild ends with measuring,
/// they are re-timed.
///
/// With w the change that is wanted and c the change that a cure makes,
///
///     share answered = 1 − |w − c| / |w|;
///
/// what answers less than 2 % is no cure, nor what would bring cables into the vanes or load limbs and axles
/// beyond their allowable. Ranked by the heaviest kind of work, single changes before pairs,
/// then by parts, then by share.
[[nodiscard]] Cures find_cures(const TuneSolver& solver, const Tear& tear, const CureOptions& options = {});

}  // namespace limbwright::models
