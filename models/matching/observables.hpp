#pragma once

#include <functional>
#include <string>
#include <vector>

#include "models/input/units.hpp"
#include "models/states/draw.hpp"

namespace limbwright::models {

/// What the bow shows at the bench, for a quantity to be read off.
struct BenchReading {
    const StrungBow& strung;         ///< with its state at brace
    const solver::State& full_draw;  ///< state at full draw
    double force_at = 0;             ///< draw force at the measurement's own draw [N]
    double peak = 0, holding = 0;    ///< largest draw force, draw force at full draw [N]
};

/// One thing that a person at the bench can measure.
struct BenchQuantity {
    std::string key;             ///< in the bench file: "axle_to_axle"
    std::string name;            ///< for people
    const Dimension* dimension;  ///< inside units: mm, N, rad, per cent
    double sigma = 0;            ///< standard deviation where the person gives none, see `bench_sigma`
    std::string definition;      ///< one sentence, with its sign
    bool at_a_draw = false;      ///< is told with the draw length at which it was measured
    std::function<double(const BenchReading&)> value;
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
