#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/matching/bow_log.hpp"
#include "models/matching/calibration.hpp"

/// After a rebuild: what was predicted against what came, and what to do next.
namespace limbwright::models {

/// A tear up to this is gone [mm], and one standard deviation of a tear read off a few shots [mm]. Both are
/// guesses.
inline constexpr double tear_gone = 6, tear_sigma = 4;

/// One number as predicted and as measured, inside units; of the tear the share that was answered.
struct Compared {
    std::string name;
    std::optional<double> at;              ///< draw length [mm]
    const Dimension* dimension = nullptr;  ///< null: a share
    double predicted = 0, predicted_sigma = 0;
    double measured = 0, measured_sigma = 0;

    [[nodiscard]] double sigmas() const;     ///< (measured − predicted) / standard deviation of both
    [[nodiscard]] bool within() const;       ///< two of them, as 95 in 100 are
    [[nodiscard]] bool contradicts() const;  ///< beyond `match_limits::contradiction`
};

/// The last plan that was carried out, and what came of it.
struct Outcome {
    const LogEntry* plan = nullptr;  ///< none: nothing was carried out yet
    std::vector<Compared> numbers;   ///< those predicted that were measured
    std::optional<Compared> tear;    ///< where it was shot before and after
};

/// Looks in a log for the plan before the last entry with measurements, if it leads to that layout.
[[nodiscard]] Outcome outcome_of(const std::vector<LogEntry>& log, const Bow& bow);

enum class Next { stop, cure, measure, contradiction };

/// What to do next, with the reason, in a sentence or two.
struct Advice {
    Next next = Next::measure;
    std::string sentence;
    int cure = 0;  ///< which of the ranked ones, counted from one; 0: none
};

/// 1. The tear is gone: stop. 2. A measurement contradicts the others, or the outcome the prediction:
/// which. 3. No tear is known: shoot one. 4. The best cure's share is less sure than a half, and one
/// measurement makes it surer by a fifth: that one. 5. The best cure: the first in the ranking that answers
/// 90 %, else the one that answers most.
///
/// @param cures  of the tear, ranked; empty where no tear is known
[[nodiscard]] Advice advice(const Outcome& outcome, const std::optional<Tear>& tear, const Match& match,
                            const std::vector<Cure>& cures);

}  // namespace limbwright::models
