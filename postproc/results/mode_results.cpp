#include "postproc/results/mode_results.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "postproc/output/json_document.hpp"

namespace limbwright::postproc {
namespace {

using Json = nlohmann::ordered_json;
using models::BowMode;
using models::BowModes;

Json number(double value) {
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json state_json(const MotionsAt& s) {
    Json parts = Json::array(), modes = Json::array();
    for (std::size_t i = 0; i < s.modes.parts.size(); ++i)
        parts.push_back({{"name", s.modes.parts[i]}, {"mass_g", 1e6 * s.modes.masses[i]}});
    for (const BowMode& mode : s.modes.lowest)
        modes.push_back({{"frequency_hz", number(mode.motion.frequency())},
                         {"eigenvalue_per_s2", mode.motion.eigenvalue},
                         {"growth_rate_per_s", mode.motion.growth_rate()},
                         {"sideways", mode.sideways},
                         {"moves_most", s.modes.parts[mode.leading_part()]},
                         {"shares", mode.shares}});
    return {{"at", s.name},
            {"draw_mm", s.state.draw},
            {"unstable_directions", s.modes.unstable},
            {"parts", std::move(parts)},
            {"modes", std::move(modes)}};
}

}  // namespace

const char* direction(const BowMode& mode) {
    return mode.sideways > 0.8 ? "sideways" : mode.sideways < 0.2 ? "in plane" : "both";
}

Table modes_table(const MotionsAt& s) {
    Table table{.title = fmt::format("Free motions at {}", s.name),
                .columns = {{"frequency", "Hz", "of the undamped motion; none where it runs away", 2},
                            {"direction", "", "in the bow's plane or across it", 0, false, {}},
                            {"sideways", "%", "share of the kinetic energy across the bow's plane", 0},
                            {"moves most", "", "part with the largest share of kinetic energy", 0, false, {}},
                            {"its share", "%", "of the kinetic energy", 0}},
                .rows = {},
                .text_name = "mode",
                .texts = {}};
    for (const BowMode& mode : s.modes.lowest) {
        const std::size_t part = mode.leading_part();
        table.texts.push_back(fmt::format("{}", table.texts.size() + 1));
        table.columns[1].words.push_back(direction(mode));
        table.columns[3].words.push_back(s.modes.parts[part]);
        table.rows.push_back({mode.motion.frequency(), 0, 100 * mode.sideways, 0, 100 * mode.shares[part]});
    }
    return table;
}

Table masses_table(const BowModes& modes) {
    Table table{.title = "Masses",
                .columns = {{"mass", "g", "as the modes have it", 1}},
                .rows = {},
                .text_name = "part",
                .texts = modes.parts};
    double whole = 0;
    for (const double mass : modes.masses) {
        table.rows.push_back({1e6 * mass});
        whole += 1e6 * mass;
    }
    table.texts.push_back("together");
    table.rows.push_back({whole});
    return table;
}

std::string stability_text(const MotionsAt& s) {
    const BowMode& least = s.modes.lowest.front();
    if (s.modes.unstable == 0)
        return fmt::format(
            "Stable at {}: every small motion swings about the state. The least eigenvalue, "
            "ω² = {:.4g} 1/s², lies above zero, the limit of stability; its motion takes "
            "{:.0f} ms a swing.",
            s.name, least.motion.eigenvalue, 1e3 / least.motion.frequency());
    return fmt::format(
        "NOT STABLE at {}: the bow runs away from the state in {} direction{}. The least "
        "eigenvalue is ω² = {:.4g} 1/s²: the motion, mostly of the {}, {}, grows by e in "
        "{:.1f} ms.",
        s.name, s.modes.unstable, s.modes.unstable == 1 ? "" : "s", least.motion.eigenvalue,
        s.modes.parts[least.leading_part()], direction(least), 1e3 / least.motion.growth_rate());
}

std::string assumptions_text(const BowModes& modes) {
    std::string text = modes.assumed.empty() ? "All densities and masses are the bow file's."
                                             : fmt::format("Not in the bow file and assumed: {}.",
                                                           fmt::join(modes.assumed, ", "));
    return text +
           " The grip's pivot stays in place and roll is held; hand, arm, arrow, spacers and whatever "
           "is screwed to the riser have no mass; string and cables give their mass to what they run "
           "to. Nothing is damped.";
}

Json to_json(std::span<const MotionsAt> states, const std::string& bow) {
    Json all = Json::array();
    for (const MotionsAt& s : states) all.push_back(state_json(s));
    return json_document(
        "modes", {{"bow", bow}, {"assumed", states.front().modes.assumed}, {"states", std::move(all)}});
}

}  // namespace limbwright::postproc
