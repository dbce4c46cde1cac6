#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "models/input/enum_names.hpp"
#include "models/states/draw.hpp"

/// Numbers read off a draw. Each is one row of a table: name, unit, definition with its sign, function.
namespace limbwright::models {

/// Where along the draw a measure is read.
enum class DrawPlace {
    brace,
    peak,       ///< at the draw at which today's bow has its peak weight
    full_draw,  ///< last state
    whole       ///< a measure of the draw as a whole
};

/// Of states; a measure of the draw as a whole has no place.
inline constexpr std::array place_names{
    Choice<DrawPlace>{"brace", DrawPlace::brace},
    Choice<DrawPlace>{"peak", DrawPlace::peak},
    Choice<DrawPlace>{"full draw", DrawPlace::full_draw},
};

/// One state of a draw, for a measure to look at.
struct StateView {
    const AssembledBow& bow;
    const Draw& draw;
    std::size_t index = 0;
    double work = 0;  ///< of the draw force from brace to here [N mm]

    [[nodiscard]] const DrawState& now() const { return draw.states[index]; }
    [[nodiscard]] const solver::State& state() const { return now().state; }
    [[nodiscard]] const solver::State& brace() const { return draw.states.front().state; }
};

/// A number that every state has.
struct StateMeasure {
    std::string name, unit, definition;
    int digits = 2;  ///< after the point, in tables
    std::function<double(const StateView&)> value;
};

/// The measures of this bow; those of limbs and cables stand once for each. Angles in degrees, energies in
/// joules, torques in newton-metres, all else in N and mm.
[[nodiscard]] std::vector<StateMeasure> state_measures(const AssembledBow& bow);

/// Values over the states, one vector a measure, in the order of `state_measures`.
[[nodiscard]] std::vector<std::vector<double>> values(const std::vector<StateMeasure>& measures,
                                                      const AssembledBow& bow, const Draw& draw);

}  // namespace limbwright::models
