#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/tuning/bench_setup.hpp"

/// What a cure is judged by besides the tear: numbers of a tune before and after.
namespace limbwright::models {

/// When a measure got worse.
enum class Worse {
    never,   ///< it is only told
    larger,  ///< its size grew, whatever its sign
    higher,
    lower,
    other  ///< it changed, either way
};

struct CureMeasure {
    std::string name, unit, definition;
    int digits = 2;
    double before = 0, after = 0;
    Worse worse_when = Worse::never;
    double threshold = 0;  ///< a change for the worse up to this is no matter, in the measure's unit
    std::optional<double> before_sigma{}, after_sigma{};  ///< standard deviations, where a match tells them

    [[nodiscard]] bool worse() const;
};

/// Those of `tear_measures` that have a direction, leans, nock travel, forgiveness, timing, clearance, forces
/// and shares of what limbs and axles may bear. Their thresholds are what a tuner can read or feel: a tenth
/// of a degree, half a millimetre, two newtons, two hundredths of a share.
///
/// @param before  today's tune, `after` another of the same bow
[[nodiscard]] std::vector<CureMeasure> compare(const SolvedTune& before, const SolvedTune& after);

/// "cam lean, top, at full draw: −0.93 to −1.45 deg".
[[nodiscard]] std::string to_text(const CureMeasure& measure);

}  // namespace limbwright::models
