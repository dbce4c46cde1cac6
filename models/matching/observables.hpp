#pragma once

#include <string>
#include <vector>

#include "models/input/units.hpp"
#include "models/study/recorded_measures.hpp"

namespace limbwright::models {

/// One thing that a person at the bench can measure.
struct BenchQuantity {
    std::string key;             ///< in the bench file: "axle_to_axle"
    PlacedMeasure of;            ///< what of a draw it is
    const Dimension* dimension;  ///< the measure is in its first unit; null: values are in the measure's
    double sigma = 0;            ///< standard deviation where the person gives none, see `bench_sigma`
    bool at_a_draw = false;      ///< is told with the draw length at which it was measured

    [[nodiscard]] std::string name() const { return in_words(of); }

    /// From the measure's unit to inside units: mm, N, rad, per cent.
    [[nodiscard]] double factor() const { return dimension ? dimension->units.front().factor : 1; }

    /// In inside units.
    ///
    /// @param states  brace, peak and full draw; or ending at the measurement's own draw
    [[nodiscard]] double value(const AssembledBow& bow, const ShortDraw& states) const;
};

/// Standard deviations of a careful reading, where the person gives none.
namespace bench_sigma {
inline constexpr double tape = 1;            ///< over a long distance, hook and parallax included [mm]
inline constexpr double square = 0.5;        ///< short distances: square or caliper [mm]
inline constexpr double straightedge = 0.3;  ///< gap beside the string [mm]
inline constexpr double scale = 2.2;         ///< bow scale, half a pound [N]
inline constexpr double let_off = 1;         ///< per cent of the peak: two readings of the scale
inline constexpr double turn = 1;            ///< of a cam, by its marks [deg]
}  // namespace bench_sigma

/// All quantities of a bench file for this bow; a single-cam bow has no timing.
[[nodiscard]] std::vector<BenchQuantity> bench_quantities(const Bow& bow);

/// Null if it is not there.
[[nodiscard]] const BenchQuantity* find(const std::vector<BenchQuantity>& quantities, const std::string& key);

}  // namespace limbwright::models
