#include "models/input/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>

namespace limbwright::models {
namespace {

using units::degree, units::inch, units::pound, units::pound_mass;
constexpr double kilogram = 9.80665;  // weight of one, exact

constexpr std::array length_units{
    Unit{"mm", 1},      Unit{"cm", 10},       Unit{"m", 1000},  Unit{"um", 1e-3},      Unit{"in", inch},
    Unit{"inch", inch}, Unit{"inches", inch}, Unit{"\"", inch}, Unit{"ft", 12 * inch},
};
constexpr std::array force_units{
    Unit{"N", 1},      Unit{"kN", 1000},   Unit{"lbf", pound},
    Unit{"lb", pound}, Unit{"lbs", pound}, Unit{"kgf", kilogram},
};
constexpr std::array angle_units{
    Unit{"deg", degree},     Unit{"°", degree}, Unit{"degree", degree},
    Unit{"degrees", degree}, Unit{"rad", 1},    Unit{"mrad", 1e-3},
};
constexpr std::array stress_units{
    Unit{"MPa", 1},
    Unit{"GPa", 1000},
    Unit{"kPa", 1e-3},
    Unit{"Pa", 1e-6},
    Unit{"N/mm2", 1},
    Unit{"psi", pound / (inch * inch)},
    Unit{"ksi", 1e3 * pound / (inch * inch)},
    Unit{"Msi", 1e6 * pound / (inch * inch)},
};
constexpr std::array torque_units{
    Unit{"N mm", 1},
    Unit{"N m", 1000},
    Unit{"lbf in", pound* inch},
    Unit{"in lbf", pound* inch},
    Unit{"lb in", pound* inch},
    Unit{"in lb", pound* inch},
    Unit{"lbf ft", 12 * pound* inch},
    Unit{"ft lbf", 12 * pound* inch},
    Unit{"lb ft", 12 * pound* inch},
    Unit{"ft lb", 12 * pound* inch},
};
constexpr std::array spring_rate_units{
    Unit{"N/mm", 1},
    Unit{"N/m", 1e-3},
    Unit{"kN/m", 1},
    Unit{"N/cm", 0.1},
    Unit{"lbf/in", pound / inch},
    Unit{"lb/in", pound / inch},
    Unit{"lbs/in", pound / inch},
};
constexpr std::array turn_rate_units{
    Unit{"N mm/rad", 1},
    Unit{"N m/rad", 1000},
    Unit{"N mm/deg", 1 / degree},
    Unit{"N m/deg", 1000 / degree},
    Unit{"lbf in/rad", pound* inch},
    Unit{"lbf in/deg", pound* inch / degree},
};
constexpr std::array curvature_units{
    Unit{"1/mm", 1},
    Unit{"1/m", 1e-3},
    Unit{"1/in", 1 / inch},
};
constexpr std::array density_units{
    Unit{"kg/m3", 1e-12},
    Unit{"g/cm3", 1e-9},
    Unit{"t/mm3", 1},
    Unit{"lb/in3", pound_mass / (inch * inch * inch)},
    Unit{"lb/ft3", pound_mass / (1728 * inch * inch * inch)},
};
constexpr std::array mass_units{
    Unit{"g", 1e-6},
    Unit{"kg", 1e-3},
    Unit{"lb", pound_mass},
    Unit{"lbs", pound_mass},
    Unit{"oz", pound_mass / 16},
    Unit{"gr", pound_mass / 7000},
    Unit{"grain", pound_mass / 7000},
    Unit{"grains", pound_mass / 7000},
};
constexpr std::array line_mass_units{
    Unit{"g/m", 1e-9},
    Unit{"kg/m", 1e-6},
    Unit{"gr/in", pound_mass / (7000 * inch)},
    Unit{"gr/ft", pound_mass / (84000 * inch)},
};

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

/// A unit's name without what people write or leave out between its parts.
std::string bare(std::string_view name) {
    std::string result;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const std::string_view rest = name.substr(i);
        if (rest.starts_with(" ") || rest.starts_with("*") || rest.starts_with("^")) continue;
        if (rest.starts_with("·")) {
            i += std::string_view("·").size() - 1;
        } else if (rest.starts_with("²")) {
            result += '2';
            i += std::string_view("²").size() - 1;
        } else if (rest.starts_with("³")) {
            result += '3';
            i += std::string_view("³").size() - 1;
        } else {
            result += name[i];
        }
    }
    return result;
}

struct NumberAndRest {
    double number;
    std::string_view rest;
};

std::optional<NumberAndRest> leading_number(std::string_view text) {
    text = trimmed(text);
    if (text.starts_with("+") && !text.starts_with("+-")) text.remove_prefix(1);
    double number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc()) return {};
    return NumberAndRest{number, trimmed(text.substr(end - text.data()))};
}

}  // namespace

namespace units {
const Dimension length{"a length", R"("45 mm" or "1.75 in")", length_units};
const Dimension force{"a force", R"("310 N" or "70 lbf")", force_units};
const Dimension angle{"an angle", R"("2.5 deg" or "0.04 rad")", angle_units};
const Dimension stress{"a stress", R"("45 GPa" or "6.5 Msi")", stress_units};
const Dimension torque{"a torque", R"("0.5 N m" or "4.4 lbf in")", torque_units};
const Dimension spring_rate{"a spring rate", R"("20 N/mm" or "114 lbf/in")", spring_rate_units};
const Dimension turn_rate{"a torque per angle", R"("2000 N m/rad" or "35 N m/deg")", turn_rate_units};
const Dimension curvature{"a curvature", R"("0.0012 1/mm" or "1.2 1/m")", curvature_units};
const Dimension density{"a density", R"("2700 kg/m3" or "0.1 lb/in3")", density_units};
const Dimension mass{"a mass", R"("120 g" or "4 oz")", mass_units};
const Dimension line_mass{"a mass per length", R"("4 g/m" or "1.6 gr/in")", line_mass_units};
}  // namespace units

std::optional<double> number_in(std::string_view text) {
    const std::optional<NumberAndRest> found = leading_number(text);
    if (!found || !found->rest.empty()) return {};
    return found->number;
}

std::optional<double> quantity_in(std::string_view text, const Dimension& dimension) {
    const std::optional<NumberAndRest> found = leading_number(text);
    if (!found || found->rest.empty()) return {};
    const std::string name = bare(found->rest);
    for (const Unit& unit : dimension.units)
        if (bare(unit.name) == name) return found->number * unit.factor;
    return {};
}

const Dimension* dimension_of(std::string_view text) {
    for (const Dimension* dimension :
         {&units::length, &units::force, &units::angle, &units::stress, &units::torque, &units::spring_rate,
          &units::turn_rate, &units::curvature, &units::density, &units::mass, &units::line_mass})
        if (quantity_in(text, *dimension)) return dimension;
    return nullptr;
}

std::string shown(double value, const Dimension& dimension) {
    const Unit& unit = dimension.units.front();
    return fmt::format("{:.6g} {}", value / unit.factor, unit.name);
}

std::string written(double value, const Dimension& dimension) {
    constexpr double last_bits = 5e-16;
    const Unit& unit = dimension.units.front();
    for (int digits = 1; digits < 17; ++digits) {
        const double rounded = number_in(fmt::format("{:.{}g}", value / unit.factor, digits)).value();
        if (std::abs(rounded * unit.factor - value) <= last_bits * std::abs(value))
            return fmt::format("{} {}", rounded + 0.0, unit.name);  // −0 as 0
    }
    return fmt::format("{} {}", value / unit.factor, unit.name);
}

}  // namespace limbwright::models
