#include "models/matching/calibration_parameters.hpp"

#include <array>

#include "models/states/state_sensitivity.hpp"

namespace limbwright::models {
namespace {

constexpr std::array percent_units{Unit{"%", 1}};

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
            derivative_share * sigma,
            [part](const Bow& bow) -> double { return part(bow); },
            [part](Bow& bow, double value) { part(bow) = value; }};
}

MatchParameter share(MatchParameter parameter, const Bow& bow) {
    parameter.relative = true;
    parameter.sigma *= 0.01 * parameter.get(bow);
    parameter.step = derivative_share * parameter.sigma;
    return parameter;
}

void add_limbs(Parameters& all, const Bow& bow) {
    using namespace prior_sigma;
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
    const auto add = [&](const std::string& pocket, const std::string& key, auto part) {
        all.push_back(number("limb number, " + pocket, "limb_number_" + key, nullptr,
                             "deflection number of the limb in that pocket; higher is stiffer", limb_number,
                             part));
    };
    if (bow.limb.kind == LimbKind::solid) {
        add(
            "top", "top", [](auto& b) -> auto& { return b.layout.pairing.top_left; });
        all.back().set = [](Bow& b, double v) { b.layout.pairing.top_left = b.layout.pairing.top_right = v; };
        add(
            "bottom", "bottom", [](auto& b) -> auto& { return b.layout.pairing.bottom_left; });
        all.back().set = [](Bow& b, double v) {
            b.layout.pairing.bottom_left = b.layout.pairing.bottom_right = v;
        };
        return;
    }
    add(
        "top left", "top_left", [](auto& b) -> auto& { return b.layout.pairing.top_left; });
    add(
        "top right", "top_right", [](auto& b) -> auto& { return b.layout.pairing.top_right; });
    add(
        "bottom left", "bottom_left", [](auto& b) -> auto& { return b.layout.pairing.bottom_left; });
    add(
        "bottom right", "bottom_right", [](auto& b) -> auto& { return b.layout.pairing.bottom_right; });
}

void add_brace(Parameters& all, const Bow& bow) {
    using namespace prior_sigma;
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
    using namespace prior_sigma;
    if (bow.pocket_top.angle_per_turn > 0)
        all.push_back(number(
            "limb bolt, top", "bolt_top", nullptr, "turns of the limb bolt, positive out", bolt_turns,
            [](auto& b) -> auto& { return b.layout.bolt_top; }));
    if (bow.pocket_bottom.angle_per_turn > 0)
        all.push_back(number(
            "limb bolt, bottom", "bolt_bottom", nullptr, "turns of the limb bolt, positive out", bolt_turns,
            [](auto& b) -> auto& { return b.layout.bolt_bottom; }));
    MatchParameter pocket = number(
        "pocket angle", "pocket_angle", &units::angle,
        "of the limbs' roots in the top pocket, toward the archer; the bottom pocket's goes along",
        pocket_angle * units::degree, [](auto& b) -> auto& { return b.pocket_top.angle; });
    pocket.set = [](Bow& b, double value) {
        b.pocket_bottom.angle += value - b.pocket_top.angle;
        b.pocket_top.angle = value;
    };
    all.push_back(std::move(pocket));
    if (bow.guide.kind != GuideKind::none)
        all.push_back(number(
            "guide, lateral", "guide_lateral", &units::length, "shift of the cable guide, positive left",
            guide_lateral, [](auto& b) -> auto& { return b.layout.guide_lateral; }));
}

}  // namespace

const Dimension percent{"a percentage", R"("80 %")", percent_units};

std::vector<MatchParameter> match_parameters(const Bow& bow) {
    Parameters all;
    add_limbs(all, bow);
    if (bow.cables.string_above)
        add_lengths(all, bow);
    else
        add_brace(all, bow);
    add_settings(all, bow);
    using namespace prior_sigma;
    all.push_back(
        share(number(
                  "string stiffness", "string_stiffness", &units::force, "EA of the string",
                  prior_sigma::cable_stiffness, [](auto& b) -> auto& { return b.cables.string_stiffness; }),
              bow));
    all.push_back(
        share(number(
                  "cable stiffness", "cable_stiffness", &units::force, "EA of each cable and yoke leg",
                  prior_sigma::cable_stiffness, [](auto& b) -> auto& { return b.cables.cable_stiffness; }),
              bow));
    all.push_back(number(
        "arrow rest, height", "rest_height", &units::length,
        "of the arrow rest above the pivot point, along the riser's Z", arrow_rest,
        [](auto& b) -> auto& { return b.shooter.rest.z(); }));
    all.push_back(number(
        "arrow rest, lateral", "rest_lateral", &units::length,
        "of the arrow rest from the bow's plane, positive left", arrow_rest,
        [](auto& b) -> auto& { return b.shooter.rest.y(); }));
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
