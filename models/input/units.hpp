#pragma once

#include <cmath>
#include <numbers>
#include <optional>
#include <span>
#include <string>
#include <string_view>

/// Quantities as people write them, "33 in" or "70 lbf"; they leave as plain numbers in N, mm, rad, MPa and
/// t.
namespace limbwright::models {

/// A unit by the name people write; a number in it times `factor` is the number inside the program.
struct Unit {
    std::string_view name;
    double factor;
};

/// A kind of quantity. The first of its units is the one in which messages and written files show it.
struct Dimension {
    std::string_view noun;      ///< with its article: "a length"
    std::string_view examples;  ///< as a person would write them, for messages
    std::span<const Unit> units;
};

/// Two sums of values as people write them that should be equal differ by less: lengths in inches [mm], steps
/// added up to an angle or a turn.
inline constexpr double sum_rounding = 1e-6;
[[nodiscard]] inline bool differ(double a, double b) {
    return std::abs(a - b) > sum_rounding;
}

namespace units {
inline constexpr double inch = 25.4;                 ///< exact [mm]
inline constexpr double pound = 4.4482216152605;     ///< weight of 0.45359237 kg at 9.80665 m/s², exact [N]
inline constexpr double pound_mass = 0.45359237e-3;  ///< exact [t]
inline constexpr double degree = std::numbers::pi / 180;  ///< [rad]

extern const Dimension length;       ///< [mm]
extern const Dimension force;        ///< [N]
extern const Dimension angle;        ///< [rad]
extern const Dimension stress;       ///< also elastic constants [MPa]
extern const Dimension torque;       ///< [N mm]
extern const Dimension spring_rate;  ///< force per length [N/mm]
extern const Dimension turn_rate;    ///< torque per angle [N mm/rad]
extern const Dimension curvature;    ///< [1/mm]
extern const Dimension density;      ///< mass per volume [t/mm³]
extern const Dimension mass;         ///< [t]
extern const Dimension line_mass;    ///< mass per length [t/mm]
}  // namespace units

namespace literals {
constexpr double operator""_mm(long double v) {
    return static_cast<double>(v);
}
constexpr double operator""_in(long double v) {
    return static_cast<double>(v) * units::inch;
}
constexpr double operator""_lbf(long double v) {
    return static_cast<double>(v) * units::pound;
}
constexpr double operator""_deg(long double v) {
    return static_cast<double>(v) * units::degree;
}
}  // namespace literals

/// The number that makes up the whole text but for blanks around it; none if it is not one. Text such as
/// "nan" or "inf" is a number here: who asks checks the range.
[[nodiscard]] std::optional<double> number_in(std::string_view text);

/// "33 in" as a length gives 838.2. None if the text is not a number followed by a unit of that dimension.
/// Blanks, "*" and "·" between the parts of a unit do not matter: "N mm", "N·mm", "Nmm".
[[nodiscard]] std::optional<double> quantity_in(std::string_view text, const Dimension& dimension);

/// What the text is a quantity of; null if it is none at all.
[[nodiscard]] const Dimension* dimension_of(std::string_view text);

/// For messages: six digits in the dimension's first unit, "4.5 mm".
[[nodiscard]] std::string shown(double value, const Dimension& dimension);

/// For files: the fewest digits in the dimension's first unit that read back to the same number but for its
/// last one or two bits, so that 33 in, which is 838.1999999999999 mm in binary, is written as 838.2 mm.
[[nodiscard]] std::string written(double value, const Dimension& dimension);

}  // namespace limbwright::models
