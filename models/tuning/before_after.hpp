#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/states/measures.hpp"
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
    PlacedMeasure of;
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
/// Beside what the tables of measures hold there are, over all states of a draw,
/// "nock_travel_lateral_largest", "clearance_smallest", "strain_share_largest" and
/// "axle_stress_share_largest".
///
/// @param before  today's tune, `after` another of the same bow
[[nodiscard]] std::vector<CureMeasure> compare(const SolvedTune& before, const SolvedTune& after);

/// Null if it is not there.
[[nodiscard]] const CureMeasure* find(const std::vector<CureMeasure>& measures, const MeasureKey& key);

/// "cam lean, top, at full draw: −0.93 to −1.45 deg".
[[nodiscard]] std::string to_text(const CureMeasure& measure);

}  // namespace limbwright::models
