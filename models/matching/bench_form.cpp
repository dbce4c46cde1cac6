#include "models/matching/bench_form.hpp"

#include <utility>

#include "models/matching/calibration_parameters.hpp"
#include "models/matching/observables.hpp"

namespace limbwright::models {
namespace {

/// Standard deviations of what a starter file guesses, inside units but for those in per cent.
constexpr std::pair<const char*, double> guesses[] = {
    {"limb_stiffness", 20},
    {"pocket_angle", 3 * units::degree},
    {"nocking_point_height", 5},
    {"guide_lateral", 5},
    {"string_stiffness", 30},
    {"cable_stiffness", 30},
    {"cam_mark_top", 3 * units::degree},
};

}  // namespace

BenchRecord starter_bench(const BenchNumbers& numbers, const Bow& bow) {
    BenchRecord sheet;
    sheet.name = bow.name;
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    for (const auto& [key, value] :
         {std::pair("axle_to_axle", numbers.axle_to_axle), std::pair("brace_height", numbers.brace_height),
          std::pair("peak_weight", numbers.peak_weight)})
        sheet.measurements.push_back({key, {}, value, find(quantities, key)->sigma});
    for (const MatchParameter& p : match_parameters(bow))
        for (const auto& [key, sigma] : guesses)
            if (p.key == key) sheet.bow_sure[p.key] = p.relative ? 0.01 * sigma * p.get(bow) : sigma;
    return sheet;
}

}  // namespace limbwright::models
