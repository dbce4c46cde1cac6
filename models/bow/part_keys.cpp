#include "models/bow/part_keys.hpp"

#include <fmt/format.h>

#include <cmath>

#include "models/bow/bow_enum_names.hpp"

namespace limbwright::models {
namespace {

using namespace literals;

constexpr Range youngs_moduli{.at_least = 100, .at_most = 1e6};  // along a part or a lamina [MPa]
constexpr Range moduli_across{.at_least = 10, .at_most = 1e6};   // down to balsa across its grain [MPa]
constexpr Range shear_moduli{.at_least = 10, .at_most = 5e5};    // [MPa]
constexpr Range poissons_ratios{.at_least = 0, .at_most = 0.9};  // a lamina's may lie above 0.5

/// Complains if the contraction across is more than any material's with such moduli: ν₁₂² < E₁/E₂, or else
/// the energy of some strain would be negative.
void complain_if_unstable(PartTable& table, double along, double across, double poisson) {
    const double limit = std::sqrt(along / across);
    if (poisson >= limit)
        table.complain(
            "poisson",
            fmt::format("must be below {:.4g}, the square root of youngs_modulus over across", limit),
            fmt::format("{:.6g}", poisson));
}

/// Riser or limb.
template <class Part>
void describe_model(PartTable& table, Part& part) {
    table.choice<PartModel>(if_any("model", "its elements: beam or shell"), part.model, part_model_names);
    table.whole_number(if_any("shells", "shell elements along it"), part.shells, 2, 1000);
    table.whole_number(if_any("shells_across"), part.shells_across, 2, 40);
    table.file(if_any("mesh"), part.mesh, part.model);
}

void describe_station(PartTable& table, RiserStation& station) {
    table.point({"at"}, station.position, on_the_bow);
    table.quantity({"width"}, station.width, units::length, {.at_least = 3.0_mm, .at_most = 200.0_mm});
    table.quantity({"depth"}, station.depth, units::length, {.at_least = 3.0_mm, .at_most = 300.0_mm});
}

void describe_cut_out(PartTable& table, CutOut& cut) {
    constexpr Range share{.at_least = 0, .at_most = 1};
    table.quantity({"from"}, cut.from, units::length, on_the_bow);
    table.quantity({"to"}, cut.to, units::length, on_the_bow);
    table.number(if_any("behind"), cut.behind, share);
    table.number(if_any("front"), cut.front, share);
}

void describe_limb_station(PartTable& table, LimbStation& station) {
    table.number({"at"}, station.at, {.at_least = 0, .at_most = 1});
    table.quantity({"width"}, station.width, units::length, {.at_least = 4.0_mm, .at_most = 80.0_mm});
    table.quantity({"thickness"}, station.thickness, units::length, {.at_least = 1.0_mm, .at_most = 25.0_mm});
    table.quantity(if_any("curvature"), station.curvature, units::curvature,
                   {.at_least = -0.02, .at_most = 0.02});
}

void describe_ply(PartTable& table, LimbPly& ply) {
    table.text({"lamina"}, ply.lamina_name);
    table.quantity(if_any("angle"), ply.angle, units::angle, {.at_least = -90.0_deg, .at_most = 90.0_deg});
    table.quantity(if_any("thickness"), ply.thickness, units::length,
                   {.at_least = 0.01_mm, .at_most = 25.0_mm});
}

}  // namespace

void describe(PartTable& table, Material& material) {
    table.quantity({"youngs_modulus"}, material.along, units::stress, youngs_moduli);
    table.quantity({"shear_modulus"}, material.shear, units::stress, shear_moduli);
    // From foam to tungsten: wide enough for every part, narrow enough to catch a slipped power of ten.
    table.quantity(if_any("density"), material.density, units::density,
                   {.at_least = 50e-12, .at_most = 20000e-12});
    table.quantity(if_any("across"), material.across, units::stress, moduli_across);
    table.number(if_any("poisson"), material.poisson, poissons_ratios);
    if (material.across && material.poisson)
        complain_if_unstable(table, material.along, *material.across, *material.poisson);
}

void describe(PartTable& table, solver::Lamina& lamina) {
    constexpr double poisson_23 = 0.4;
    constexpr Range shear_through{.at_least = 1, .at_most = 5e5};  // what the least modulus across makes, too
    const auto unless_reading = [&](double value) {
        return table.reading() ? std::nullopt : std::optional(value);
    };
    std::optional<double> across = unless_reading(lamina.across), poisson = unless_reading(lamina.poisson);
    table.quantity({"youngs_modulus", "along its fibres"}, lamina.along, units::stress, youngs_moduli);
    table.quantity(if_any("across"), across, units::stress, moduli_across);
    if (across && !poisson)
        table.number({"poisson", "contraction across per strain along"}, poisson.emplace(), poissons_ratios);
    else
        table.number(if_any("poisson", "contraction across per strain along"), poisson, poissons_ratios);
    table.quantity({"shear_modulus", "in its plane"}, lamina.shear, units::stress, shear_moduli);
    if (table.reading()) {
        lamina.across = across.value_or(lamina.along);
        lamina.poisson = poisson.value_or(lamina.along / (2 * lamina.shear) - 1);
        lamina.shear_13 = lamina.shear;
        lamina.shear_23 = across ? *across / (2 * (1 + poisson_23)) : lamina.shear;
        if (poisson)
            complain_if_unstable(table, lamina.along, lamina.across, lamina.poisson);
        else if (lamina.poisson < 0 || lamina.poisson > 0.5)
            table.complain("poisson",
                           fmt::format("is missing; without across and poisson a lamina is isotropic, but "
                                       "youngs_modulus / (2 shear_modulus) - 1 is {:.4g} and would have to "
                                       "lie between 0 and 0.5",
                                       lamina.poisson));
    }
    table.quantity(if_any("shear_13", "through its thickness, along"), lamina.shear_13, units::stress,
                   shear_through);
    table.quantity(if_any("shear_23", "through its thickness, across"), lamina.shear_23, units::stress,
                   shear_through);
}

void describe(PartTable& table, Riser& riser) {
    table.table({"material"}, Form::line, [&](PartTable& inner) { describe(inner, riser.material); });
    table.number(if_any("fill", "share of each section that is metal"), riser.fill,
                 {.above = 0, .at_most = 1});
    table.whole_number(if_any("elements"), riser.elements, 2, 1000);
    describe_model(table, riser);
    table.rows<RiserStation>({"stations", "bottom to top"}, riser.stations, describe_station);
    table.rows<CutOut>(if_any("cut_outs", "between two heights; shares of the depth, 0 at the archer's side"),
                       riser.cut_outs, describe_cut_out);
}

void describe(PartTable& table, Pocket& pocket) {
    table.point({"position", "of the limbs' roots"}, pocket.position, on_the_bow);
    table.quantity({"angle", "of the limb's root toward the archer, limb bolt at zero turns"}, pocket.angle,
                   units::angle, {.at_least = -30.0_deg, .at_most = 100.0_deg});
    table.quantity(if_any("angle_per_turn", "of the limb bolt, out; raises the angle"), pocket.angle_per_turn,
                   units::angle, {.at_least = 0, .at_most = 10.0_deg});
    table.quantity(if_any("bending_stiffness"), pocket.bending_stiffness, units::turn_rate, positive);
    table.quantity(if_any("twisting_stiffness"), pocket.twisting_stiffness, units::turn_rate, positive);
}

void describe(PartTable& table, Limb& limb) {
    table.choice<LimbKind>({"kind"}, limb.kind, limb_kind_names);
    table.quantity({"length", "along the centre line, root to axle"}, limb.length, units::length,
                   {.at_least = 100.0_mm, .at_most = 1000.0_mm});
    table.rows<LimbStation>({"stations", "0 at the root, 1 at the axle"}, limb.stations,
                            describe_limb_station);
    table.table(if_any("material", {}, limb.material.along != 0), Form::line,
                [&](PartTable& inner) { describe(inner, limb.material); });
    table.quantity(if_any("spring_rate", "of one limb, measured at its tip"), limb.spring_rate,
                   units::spring_rate, positive);
    table.number({"reference_number", "deflection number of the limb described here"}, limb.reference_number,
                 positive);
    table.quantity({"lateral", "centre line of a limb or prong from the bow's plane"}, limb.lateral,
                   units::length, {.at_least = 3.0_mm, .at_most = 80.0_mm});
    table.quantity(if_any("fork", "length of the forked part at the tip"), limb.fork, units::length,
                   positive);
    table.quantity(if_any("prong_width"), limb.prong_width, units::length,
                   {.at_least = 2.0_mm, .at_most = 40.0_mm});
    table.quantity(if_any("bore_offset", "axle's centre from the centre line, toward the archer"),
                   limb.bore_offset, units::length, {.at_least = -30.0_mm, .at_most = 30.0_mm});
    table.number({"strain_allowable", "outer fibre"}, limb.strain_allowable, {.above = 0, .at_most = 0.1});
    table.whole_number(if_any("elements"), limb.elements, 2, 1000);
    describe_model(table, limb);
    table.choice<Warping>(
        if_any("warping",
               "whether pocket and bore hold a twisted limb of beams flat at its ends: \"held\" or \"free\""),
        limb.warping, warping_names);
    table.rows<LimbPly>(
        if_any("plies", "from the target's side to the archer's; angles from the length toward the left"),
        limb.plies, describe_ply);
}

void describe(PartTable& table, Axle& axle) {
    table.quantity({"diameter"}, axle.diameter, units::length, {.at_least = 2.0_mm, .at_most = 20.0_mm});
    table.quantity({"length", "end to end"}, axle.length, units::length,
                   {.at_least = 10.0_mm, .at_most = 200.0_mm});
    table.table({"material"}, Form::line, [&](PartTable& inner) { describe(inner, axle.material); });
    table.quantity({"stress_allowable", "in bending"}, axle.stress_allowable, units::stress,
                   {.above = 0, .at_most = 5000});
}

}  // namespace limbwright::models
