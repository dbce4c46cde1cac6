#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "models/matching/calibration.hpp"
#include "models/tuning/arrow.hpp"
#include "models/tuning/cure_search.hpp"
#include "models/tuning/rules_of_thumb.hpp"

/// From bench numbers and a tear to cures that tell how sure they are.
namespace limbwright::models {

/// A bow as it stands on the bench, as well as it is known.
struct KnownBow {
    Bow bow;                            ///< in today's layout, as its parts are labelled
    std::optional<Match> match;         ///< none where nothing was measured
    std::vector<Measurement> measured;  ///< of today's layout

    /// @throws std::runtime_error with the reason if the bow cannot be strung or drawn
    [[nodiscard]] TuneSolver solver() const;
};

/// @param bow   the bow file's
/// @param days  the last one is today's layout
[[nodiscard]] std::variant<KnownBow, NotMatched> known_bow(const Bow& bow, const std::vector<BenchDay>& days);

/// Cures as `find_cures` of the bow's solver, with foresight where the bow is matched.
///
/// @throws std::runtime_error with the reason if the bow cannot be strung or drawn
[[nodiscard]] Cures find_cures(const KnownBow& bow, const Tear& tear, const CureOptions& options);

/// What the model makes of a tear.
struct TearAnswer {
    TuneSolver solver;  ///< of the bow that tears so
    Tear tear;
    std::optional<ShaftCheck> shaft;  ///< where the arrow is known
    std::vector<Practice> practice;
    Cures cures;
};

/// @throws std::runtime_error with the reason if the bow cannot be strung or drawn
[[nodiscard]] TearAnswer answer_tear(const KnownBow& bow, const Tear& tear, const CureOptions& options);

/// The same of a bow of which nothing was measured.
[[nodiscard]] TearAnswer answer_tear(const TuneSolver& solver, const Tear& tear, const CureOptions& options);

}  // namespace limbwright::models
