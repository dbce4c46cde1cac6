#include "models/tuning/arrow.hpp"

#include <fmt/format.h>

#include <numbers>

#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

using units::inch;

/// W L³ / 48 [N mm³].
constexpr double three_point(double weight, double span) {
    return weight * span * span * span / 48;
}
constexpr double standard = three_point(1.94 * units::pound, 28 * inch);
constexpr double older = three_point(2 * units::pound, 26 * inch);
constexpr double thousandth = 1e-3 * inch;

}  // namespace

double bending_stiffness(double spine) {
    return standard / (spine * thousandth);
}
double spine_of(double stiffness) {
    return standard / stiffness / thousandth;
}
double older_sag(double stiffness) {
    return older / stiffness;
}
double bending_stiffness_from_older(double sag) {
    return older / sag;
}
double older_pounds(double stiffness) {
    return 26 * inch / older_sag(stiffness);
}

ShaftCheck check_shaft(const Arrow& arrow, double peak_force) {
    ShaftCheck check;
    const double shaft = arrow.total_weight - arrow.point_weight;
    check.thrust = peak_force * (arrow.point_weight + shaft / 2) / (arrow.total_weight + virtual_mass);
    check.critical =
        std::numbers::pi * std::numbers::pi * bending_stiffness(arrow.spine) / (arrow.length * arrow.length);
    check.ratio = check.thrust / check.critical;
    if (check.ratio > weakest_plausible) check.verdict = ShaftVerdict::too_weak;
    if (check.ratio < stiffest_plausible) check.verdict = ShaftVerdict::too_stiff;
    return check;
}

std::string to_text(const ShaftCheck& check) {
    const char* verdict = check.verdict == ShaftVerdict::too_weak    ? "too weak"
                          : check.verdict == ShaftVerdict::too_stiff ? "too stiff"
                                                                     : "plausible";
    return fmt::format("{}: the push at peak weight is {:.2f} of the shaft's Euler load ({} to {} is usual)",
                       verdict, check.ratio, stiffest_plausible, weakest_plausible);
}

}  // namespace limbwright::models
