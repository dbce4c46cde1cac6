#include "models/matching/calibration_parameters.hpp"

#include <array>

namespace limbwright::models {
namespace {

constexpr std::array percent_units{Unit{"%", 1}};

/// Share of its standard deviation by which derivatives move a parameter either way: truncation stays below
/// 1e-3 of the second-order effect of one standard deviation.
constexpr double step_share = 0.02;

using Parameters = std::vector<MatchParameter>;

/// @param part  of the bow: a function from a bow (const or not) to a reference to the number
template <class Part>
MatchParameter number(std::string name, std::string key, const Dimension* dimension, std::string definition,
                      double sigma, Part part) {
    return {std::move(name),
            std::move(key),
            dimension,
            std::move(definition),
            false,
            sigma,
            step_share * sigma,
            Work::none,
            false,
            [part](const Bow& bow) -> double { return part(bow); },
            [part](Bow& bow, double value) { part(bow) = value; }};
}

MatchParameter share(MatchParameter parameter, const Bow& bow) {
    parameter.relative = true;
    parameter.sigma *= 0.01 * parameter.get(bow);
    parameter.step = step_share * parameter.sigma;
    return parameter;
}

void add_limb_stiffness(Parameters& all, const Bow& bow) {
    if (bow.limb.spring_rate) {
        all.push_back(
            share(number(
                      "limb stiffness", "limb_stiffness", &units::spring_rate,
                      "spring rate of a limb with the reference number", prior_sigma::limb_stiffness,
                      [](auto& b) -> auto& { return *b.limb.spring_rate; }),
                  bow));
    } else {
        MatchParameter stiffness = number(
            "limb stiffness", "limb_stiffness", &units::stress,
            "Young's modulus along a limb with the reference number; the shear modulus goes in proportion",
            prior_sigma::limb_stiffness, [](auto& b) -> auto& { return b.limb.material.along; });
        stiffness.set = [](Bow& b, double value) {
            b.limb.material.shear *= value / b.limb.material.along;
            b.limb.material.along = value;
        };
        all.push_back(share(std::move(stiffness), bow));
    }
}

void add_brace(Parameters& all, const Bow& bow) {
    using namespace prior_sigma;
    const std::size_t first = all.size();
    const auto mark = [&](const std::string& end, auto part) {
        all.push_back(number("cam mark, " + end, "cam_mark_" + end, &units::angle,
                             "turn of the cam at brace from its drawn pose, positive with the draw",
                             cam_mark * units::degree, part));
    };
    all.push_back(number(
        "axle-to-axle", "axle_to_axle", &units::length, "between the axles' middles at brace",
        prior_sigma::axle_to_axle, [](auto& b) -> auto& { return b.brace.axle_to_axle; }));
    all.push_back(number(
        "nocking-point height", "nocking_point_height", &units::length,
        "above the pivot point along the riser's Z at brace", prior_sigma::nocking_point_height,
        [](auto& b) -> auto& { return b.brace.nocking_point_height; }));
    MatchParameter& nocking_point = all.back();
    nocking_point.get = [](const Bow& b) { return b.brace.nocking_point_height + b.layout.nocking_point; };
    nocking_point.set = [](Bow& b, double value) {
        b.brace.nocking_point_height = value - b.layout.nocking_point;
    };
    if (bow.brace.brace_height)
        all.push_back(number(
            "brace height", "brace_height", &units::length, "pivot point to string along the riser's X",
            prior_sigma::brace_height, [](auto& b) -> auto& { return *b.brace.brace_height; }));
    if (bow.cables.system != CableSystem::single_cam)
        mark(
            "top", [](auto& b) -> auto& { return b.brace.mark_top; });
    // With a brace height both cams turn together from their marks, so one mark tells their difference.
    if (!bow.brace.brace_height)
        mark(
            "bottom", [](auto& b) -> auto& { return b.brace.mark_bottom; });
    for (auto p = all.begin() + static_cast<std::ptrdiff_t>(first); p != all.end(); ++p) p->at_brace = true;
}

void add_lengths(Parameters& all, const Bow& bow) {
    const auto add = [&](const std::string& name, const std::string& key, auto part) {
        all.push_back(number(name, key, &units::length, "natural length without twists",
                             prior_sigma::natural_length, part));
    };
    add(
        "string above the nock", "string_above", [](auto& b) -> auto& { return *b.cables.string_above; });
    add(
        "string below the nock", "string_below", [](auto& b) -> auto& { return *b.cables.string_below; });
    for (std::size_t i = 0; i < bow.cables.cables.size(); ++i)
        add(
            i == 0 ? "cable of the first take-up" : "cable of the second take-up",
            i == 0 ? "cable_first" : "cable_second", [i](auto& b) -> auto& { return b.cables.cables[i]; });
}

void add_settings(Parameters& all, const Bow& bow) {
    for (const Setting& s : settings_of(bow))
        if (s.sigma > 0)
            all.push_back({s.name, s.key, s.dimension, s.definition, false, s.sigma, step_share * s.sigma,
                           s.work, false, s.get_of, s.set_of});
}

}  // namespace

const Dimension percent{"a percentage", R"("80 %")", percent_units};

std::vector<MatchParameter> match_parameters(const Bow& bow) {
    using namespace prior_sigma;
    Parameters all;
    add_limb_stiffness(all, bow);
    MatchParameter pocket = number(
        "pocket angle", "pocket_angle", &units::angle,
        "of the limbs' roots in the top pocket, toward the archer; the bottom pocket's goes along",
        pocket_angle * units::degree, [](auto& b) -> auto& { return b.pocket_top.angle; });
    pocket.set = [](Bow& b, double value) {
        b.pocket_bottom.angle += value - b.pocket_top.angle;
        b.pocket_top.angle = value;
    };
    all.push_back(std::move(pocket));
    if (bow.cables.string_above)
        add_lengths(all, bow);
    else
        add_brace(all, bow);
    all.push_back(share(number(
                            "string stiffness", "string_stiffness", &units::force, "EA of the string",
                            cable_stiffness, [](auto& b) -> auto& { return b.cables.string_stiffness; }),
                        bow));
    all.push_back(
        share(number(
                  "cable stiffness", "cable_stiffness", &units::force, "EA of each cable and yoke leg",
                  prior_sigma::cable_stiffness, [](auto& b) -> auto& { return b.cables.cable_stiffness; }),
              bow));
    add_settings(all, bow);
    return all;
}

Bow with_values(Bow bow, const std::vector<MatchParameter>& parameters, const solver::VecX& values) {
    for (std::size_t i = 0; i < parameters.size(); ++i)
        parameters[i].set(bow, values[static_cast<Eigen::Index>(i)]);
    return bow;
}

solver::VecX values_of(const Bow& bow, const std::vector<MatchParameter>& parameters) {
    solver::VecX values(static_cast<Eigen::Index>(parameters.size()));
    for (std::size_t i = 0; i < parameters.size(); ++i)
        values[static_cast<Eigen::Index>(i)] = parameters[i].get(bow);
    return values;
}

}  // namespace limbwright::models
