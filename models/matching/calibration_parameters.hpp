#pragma once

#include <functional>
#include <string>
#include <vector>

#include "models/bow/settings.hpp"
#include "models/input/units.hpp"

namespace limbwright::models {

/// One number of a bow that bench measurements may correct.
struct MatchParameter {
    std::string name;            ///< "limb number, top left"
    std::string key;             ///< in files: "limb_number_top_left"
    const Dimension* dimension;  ///< in which it is shown; null: a plain number (limb number, turns)
    std::string definition;      ///< one sentence, with its sign
    bool relative = false;       ///< files give how sure it is in per cent of the bow file's value
    double sigma = 0;            ///< standard deviation of the bow file's value, inside units
    double step = 0;             ///< by which derivatives move it, inside units
    Work work = Work::none;      ///< of a setting
    bool at_brace = false;       ///< set up anew at every rebuild
    std::function<double(const Bow&)> get;
    std::function<void(Bow&, double)> set;
};

/// Per cents as people write them; inside they are per cents too.
extern const Dimension percent;

/// How sure a bow file's numbers other than settings are taken to be where the person does not say: standard
/// deviations. They are guesses of what a careful owner knows of a bow, wide on purpose.
namespace prior_sigma {
inline constexpr double limb_stiffness = 5;        ///< per cent: catalogue moduli
inline constexpr double pocket_angle = 0.5;        ///< [deg], both pockets alike
inline constexpr double axle_to_axle = 3;          ///< [mm]
inline constexpr double brace_height = 3;          ///< [mm]
inline constexpr double nocking_point_height = 2;  ///< [mm]
inline constexpr double cam_mark = 2;              ///< [deg]
inline constexpr double natural_length = 2;        ///< [mm]
inline constexpr double cable_stiffness = 10;      ///< per cent, string and cables
}  // namespace prior_sigma

/// What may be matched on this bow; the bow's values are the prior ones. Settings are among it unless they
/// are counted.
///
/// String and cables stand for themselves where the bow gives natural lengths. Where it gives what was
/// measured at brace, those numbers take their place: axle-to-axle, brace height, nocking-point height and
/// the cams' marks settle the lengths. A bow whose limb bolts or guide change nothing has no parameter for
/// them.
[[nodiscard]] std::vector<MatchParameter> match_parameters(const Bow& bow);

/// The bow with such values, in the order of the parameters.
[[nodiscard]] Bow with_values(Bow bow, const std::vector<MatchParameter>& parameters,
                              const solver::VecX& values);

/// The bow's own values.
[[nodiscard]] solver::VecX values_of(const Bow& bow, const std::vector<MatchParameter>& parameters);

}  // namespace limbwright::models
