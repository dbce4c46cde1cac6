#pragma once

#include <string>
#include <vector>

#include "models/bow/settings.hpp"
#include "models/states/measure_table.hpp"
#include "models/states/natural_lengths.hpp"

namespace limbwright::models {

/// How one measure answers each setting.
struct Effect {
    PlacedMeasure of;
    double today = 0;  ///< value of the measure, in its unit
    std::vector<double>
        change;  ///< for one practical step of each setting, in the measure's unit: derivative × step
};

struct EffectsTable {
    LengthRule lengths = LengthRule::kept;
    std::vector<Setting> settings;
    std::vector<Effect> effects;  ///< at brace, at peak weight, at full draw, then of the draw as a whole

    /// Null if it is not there.
    [[nodiscard]] const Effect* find(const MeasureKey& key) const;
};

/// Effects of settings on a bow as it is strung and drawn today, to first order.
///
/// Measures are read off the bows at s ± h in the states q ± h dq/ds (`StateSensitivity`), s a setting;
/// forgiveness takes the tangent of those states.
///
/// Peak weight and full draw keep the nocking point where it is today, also in a bow that draws to its stops:
/// there it stays where today's draw ended. Measures of the numerics and those that are zero by definition
/// (nock departure at both ends) are left out; of the draw as a whole there are those that brace, peak and
/// full draw tell. A measure that is the largest or the smallest of several has the change of the one that is
/// it today.
///
/// @param today  a draw of this bow; its first state, the one with the largest force, and its last are looked
/// at
/// @throws std::runtime_error if the tangent at one of the states has no inverse
[[nodiscard]] EffectsTable effects_table(const StrungBow& strung, const Draw& today, LengthRule lengths,
                                         const std::vector<Setting>& settings);

}  // namespace limbwright::models
