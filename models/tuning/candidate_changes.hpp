#pragma once

#include <functional>
#include <string>
#include <vector>

#include "models/bow/spacers.hpp"
#include "models/states/sensitivity_table.hpp"
#include "models/tuning/bench_setup.hpp"

/// Single changes that may cure a tear, with what they are predicted to do.
namespace limbwright::models {

using solver::Vec2;

/// What is changed, by rising work at the bench.
enum class CureKind { rest, nocking_point, guide, bolts, timing, yoke, spacers, limbs };

/// What may be changed besides what stands in the bow.
struct CureOptions {
    bool bolts = false;                 ///< limb bolts may be turned
    std::vector<SpacerKind> spacers{};  ///< spare ones
    std::vector<double> limbs{};        ///< deflection numbers of spare ones
    int threads = 1;                    ///< on which changes are solved
};

/// How far single moves may go, either way: the rest and the nocking point 2 mm, lest the arrow leave the
/// bow's plane or its level; the guide 5 mm; cables against each other 2 turns, bolts 2, yoke legs 4 each.
inline constexpr double most_rest = 2, most_guide = 5, most_timing = 2, most_bolts = 2, most_yoke = 4;

/// One change.
struct Move {
    CureKind kind = CureKind::rest;
    std::string text;          ///< "arrow rest 2 mm left"
    Vec2 turn = Vec2::Zero();  ///< predicted change of the tail turn, lateral and vertical [deg]
    std::function<void(Tune&)> apply;
    int parts = 0;  ///< that go elsewhere, come in or go out
};

/// A change that goes by degrees.
struct Knob {
    CureKind kind = CureKind::rest;
    std::string name;           ///< "arrow rest, sideways"
    Vec2 slope = Vec2::Zero();  ///< of the tail turn by the amount [deg per mm or turn]
    double least = 0, most = 0, step = 1;
    std::function<std::string(double)> text;
    std::function<void(Tune&, double)> apply;

    /// The move by the amount, in whole steps and within the range, that comes nearest to a wanted turn; one
    /// without text if that is no move at all.
    ///
    /// @param directions  1 where the turn counts, 0 where it does not
    [[nodiscard]] Move nearest_to(const Vec2& wanted, const Vec2& directions) const;
};

/// Rest, guide, bolts, timing and yokes of today's bow, and the nocking point if asked for, which takes a
/// solution of its own.
///
/// @param nocking_point  change of the tail turn per millimetre up the string; none: it stays
[[nodiscard]] std::vector<Knob> knobs(const SolvedTune& today, const CureOptions& options,
                                      const std::optional<Vec2>& nocking_point);

/// Every other layout of the spacers that stand in the bow and the spare ones; re-timed.
[[nodiscard]] std::vector<Move> spacer_moves(const SolvedTune& today, const EffectsTable& re_timed,
                                             const CureOptions& options);

/// Every other pairing of the limbs in the bow and the spare ones; re-timed.
[[nodiscard]] std::vector<Move> limb_moves(const SolvedTune& today, const EffectsTable& re_timed,
                                           const CureOptions& options);

/// The tail turn of a tune, lateral and vertical [deg].
[[nodiscard]] Vec2 tail_turn(const SolvedTune& tune);

}  // namespace limbwright::models
