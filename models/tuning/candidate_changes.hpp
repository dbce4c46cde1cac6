#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "models/bow/spacers.hpp"
#include "models/states/sensitivity_table.hpp"
#include "models/tuning/bench_setup.hpp"

/// Single changes that may cure a tear, with what they are predicted to do.
namespace limbwright::models {

using solver::Vec2;

/// What may be changed besides what stands in the bow.
struct CureOptions {
    bool bolts = false;                 ///< limb bolts may be turned
    std::vector<SpacerKind> spacers{};  ///< spare ones
    std::vector<double> limbs{};        ///< deflection numbers of spare ones
};

/// One change.
struct Move {
    Work work = Work::none;
    std::string text;          ///< "arrow rest 2 mm left"
    Vec2 turn = Vec2::Zero();  ///< predicted change of the tail turn, lateral and vertical [deg]
    std::function<void(Layout&)> apply;
    int parts = 0;  ///< that go elsewhere, come in or go out
};

/// A change that goes by degrees: a setting, and another one the other way by as much if its reach says so.
struct Knob {
    Setting setting;
    std::optional<Setting> against;
    Vec2 slope = Vec2::Zero();   ///< of the tail turn by the amount [deg per mm or turn]
    double least = 0, most = 0;  ///< of the amount

    /// "arrow rest, lateral", "top take-up cable against bottom take-up cable".
    [[nodiscard]] std::string name() const;
    /// "arrow rest 2 mm left".
    [[nodiscard]] std::string text(double amount) const;
    /// The move by the amount, in whole notches and within the range, that comes nearest to a wanted turn;
    /// one without text if that is no move at all.
    ///
    /// @param directions  1 where the turn counts, 0 where it does not
    [[nodiscard]] Move nearest_to(const Vec2& wanted, const Vec2& directions) const;
};

/// Every setting of today's bow that has a reach, by rising work.
[[nodiscard]] std::vector<Knob> knobs(const SolvedTune& today, const CureOptions& options);

/// Every other layout of the spacers that stand in the bow and the spare ones; re-timed.
[[nodiscard]] std::vector<Move> spacer_moves(const SolvedTune& today, const EffectsTable& re_timed,
                                             const CureOptions& options);

/// Every other pairing of the limbs in the bow and the spare ones; re-timed.
[[nodiscard]] std::vector<Move> limb_moves(const SolvedTune& today, const EffectsTable& re_timed,
                                           const CureOptions& options);

/// The tail turn of a bow, lateral and vertical [deg].
[[nodiscard]] Vec2 tail_turn(const SolvedTune& tune);

}  // namespace limbwright::models
