#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/bow/sides.hpp"
#include "models/tuning/bench_setup.hpp"

/// What to do at the bench, in order, to bring a bow from one layout to another.
namespace limbwright::models {

enum class StepKind {
    write_down,  ///< what today's bow measures and how it is marked
    press_on,
    axle_out,
    limb_out,
    limb_in,
    spacers,
    axle_in,
    set,  ///< a twist, a bolt, the guide, the rest, …
    press_off,
    timing,  ///< restore it
    measure
};

/// One step. Those that change nothing but the order of things carry a text only.
struct Step {
    StepKind kind = StepKind::measure;
    std::string text;
    std::string setting;          ///< key of a number that is set: "guide_lateral"
    double to = 0;                ///< what it is set to; a limb's number
    End end = End::top;           ///< where limbs, spacers and axles are
    std::optional<Flank> flank;   ///< the same; none: left and right together
    std::vector<double> stack{};  ///< spacers, from the cam outward
};

/// Steps from one layout of a bow to another. A press is asked for where string, cables, axles or limbs are
/// touched; keys turn at the end, on the strung bow.
[[nodiscard]] std::vector<Step> bench_steps(const Bow& bow, const Layout& from, const Layout& to,
                                            LengthRule lengths);

/// Does a step. A pocket without a limb has the number 0 meanwhile.
///
/// @throws std::logic_error if a limb goes into a pocket that is not empty or comes out of an empty one
void apply(const Bow& bow, const Step& step, Layout& layout);

}  // namespace limbwright::models
