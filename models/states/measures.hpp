#pragma once

#include <array>
#include <compare>
#include <functional>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "models/input/enum_names.hpp"
#include "models/states/draw.hpp"

/// Numbers read off a draw. Each is one row of a table: id, name, unit, definition with its sign, function.
namespace limbwright::models {

/// Where along the draw a measure is read.
enum class DrawPlace {
    brace,
    peak,       ///< at the draw at which today's bow has its peak weight
    full_draw,  ///< last state
    whole       ///< a measure of the draw as a whole
};

/// The places of states stand first.
inline constexpr std::array place_names{
    Choice<DrawPlace>{"brace", DrawPlace::brace}, Choice<DrawPlace>{"peak", DrawPlace::peak},
    Choice<DrawPlace>{"full draw", DrawPlace::full_draw}, Choice<DrawPlace>{"whole draw", DrawPlace::whole}};
inline constexpr std::array state_places{DrawPlace::brace, DrawPlace::peak, DrawPlace::full_draw};

/// A draw and one of its states, for a measure to look at; a measure of the draw as a whole takes any.
struct StateView {
    const AssembledBow& bow;
    const Draw& draw;
    std::size_t index = 0;
    double work = 0;  ///< of the draw force from brace to here [N mm]

    [[nodiscard]] const DrawState& now() const { return draw.states[index]; }
    [[nodiscard]] const solver::State& state() const { return now().state; }
    [[nodiscard]] const solver::State& brace() const { return draw.states.front().state; }
};

/// What a draw must hold besides states, draws and forces of brace, peak and full draw.
enum class Needs {
    nothing_else,
    energy,             ///< `DrawState::energy`
    yaw_torque_effect,  ///< `DrawState::yaw_torque_effect`
    whole_draw          ///< all states, or how they were found
};

/// A number that every state of a draw has, or a draw as a whole.
struct Measure {
    std::string id;  ///< of letters, digits and "_"; unlike the name it never changes
    std::string name, unit, definition;
    int digits = 2;  ///< after the point, in tables
    std::function<double(const StateView&)> value;
    Needs needs = Needs::nothing_else;
    bool fixed_at_ends = false;  ///< zero by definition at brace and full draw, or held there
    double at_least = -std::numeric_limits<double>::infinity();  ///< below it, parts touch
    double at_most = std::numeric_limits<double>::infinity();    ///< above it, parts may break
};

/// What tells a measure at its place from all others.
struct MeasureKey {
    std::string id;
    DrawPlace at = DrawPlace::whole;
    auto operator<=>(const MeasureKey&) const = default;
};

/// A measure at a place of the draw.
struct PlacedMeasure {
    Measure measure;
    DrawPlace at = DrawPlace::whole;

    [[nodiscard]] MeasureKey key() const { return {measure.id, at}; }
};

/// "cam lean, top, at full draw"; of a draw as a whole the name alone.
[[nodiscard]] std::string in_words(const std::string& measure, DrawPlace at);
[[nodiscard]] inline std::string in_words(const PlacedMeasure& m) {
    return in_words(m.measure.name, m.at);
}

/// The measures of this bow's states; those of limbs and cables stand once for each. Angles in degrees,
/// energies in joules, torques in newton-metres, all else in N and mm.
[[nodiscard]] std::vector<Measure> state_measures(const AssembledBow& bow);

/// Null if there is none of that id.
[[nodiscard]] const Measure* find(const std::vector<Measure>& measures, std::string_view id);

/// Values over the states, one vector a measure, in the order of `measures`.
[[nodiscard]] std::vector<std::vector<double>> values(const std::vector<Measure>& measures,
                                                      const AssembledBow& bow, const Draw& draw);

}  // namespace limbwright::models
