#pragma once

#include <string>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/input/units.hpp"

namespace limbwright::models {

/// One number that a rebuild or a turn of a key can change. Inside it is in mm, rad, turns or the limb's
/// number.
struct Setting {
    std::string name;            ///< "guide, lateral", "limb number, top left", "spacers, top", …
    std::string step_name;       ///< one practical step, for a table: "1 mm left", "+1 turn"
    double step = 1;             ///< that step, inside
    const Dimension* dimension;  ///< in which files give it; null: a plain number (limb number, turns)
    std::string definition;      ///< one sentence, with its sign
    double (*get)(const Layout&);
    /// Spacers are set to any offset of the cam [mm, positive left] by stacks that no box holds: for
    /// derivatives, not for building.
    void (*set)(Layout&, double);
};

/// The settings that this bow has: no yoke legs where there is no yoke, no guide where there is none; a solid
/// limb is one number.
///
/// @param spacer  thickness of the spacer whose move from the left stack to the right counts as one step; it
/// moves the cam by as much to the left [mm]
[[nodiscard]] std::vector<Setting> settings_of(const Bow& bow, double spacer);

/// The thinnest spacer that stands in the bow, 0.5 mm where there is none [mm].
[[nodiscard]] double thinnest_spacer(const Bow& bow);

}  // namespace limbwright::models
