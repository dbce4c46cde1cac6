#include "models/bow/limb_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <limits>
#include <vector>

#include "models/bow/bow_enum_names.hpp"
#include "models/bow/part_reader.hpp"

namespace limbwright::models {
namespace {

using namespace literals;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

solver::Lamina lamina_in(TableReader table) {
    solver::Lamina lamina;
    lamina.along = table.quantity("youngs_modulus", units::stress, youngs_moduli);
    lamina.shear = table.quantity("shear_modulus", units::stress, shear_moduli);
    const std::optional<double> across = table.optional_quantity("across", units::stress, moduli_across);
    lamina.across = across.value_or(lamina.along);
    if (across || table.has("poisson")) {
        lamina.poisson = table.number("poisson", poissons_ratios);
        complain_if_unstable(table, lamina.along, lamina.across, lamina.poisson);
    } else {
        lamina.poisson = lamina.along / (2 * lamina.shear) - 1;
        if (lamina.poisson < 0 || lamina.poisson > 0.5)
            table.complain(
                "poisson",
                fmt::format("is missing; without across and poisson a lamina is isotropic, but "
                            "youngs_modulus / (2 shear_modulus) - 1 is {:.4g} and would have to lie "
                            "between 0 and 0.5",
                            lamina.poisson));
    }
    constexpr double poisson_23 = 0.4;
    constexpr Range shear_through{.at_least = 1, .at_most = 5e5};  // what the least modulus across makes, too
    lamina.shear_13 = table.quantity_or("shear_13", lamina.shear, units::stress, shear_through);
    lamina.shear_23 = table.quantity_or("shear_23", across ? *across / (2 * (1 + poisson_23)) : lamina.shear,
                                        units::stress, shear_through);
    return lamina;
}

std::vector<LimbStation> limb_stations_in(TableReader& table) {
    std::vector<LimbStation> stations;
    for (TableReader& station : table.tables("stations"))
        stations.push_back({
            .at = station.number("at", {.at_least = 0, .at_most = 1}),
            .width = station.quantity("width", units::length, {.at_least = 4.0_mm, .at_most = 80.0_mm}),
            .thickness =
                station.quantity("thickness", units::length, {.at_least = 1.0_mm, .at_most = 25.0_mm}),
            .curvature =
                station.quantity_or("curvature", 0, units::curvature, {.at_least = -0.02, .at_most = 0.02}),
        });
    return stations;
}

/// The lamina of that name; NaN and a complaint if there is none.
solver::Lamina named_lamina(TableReader& ply, const std::string& name, const Laminae& laminae) {
    const auto lamina = laminae.find(name);
    if (lamina != laminae.end()) return lamina->second;
    std::vector<std::string> known;
    for (const auto& [other, constants] : laminae) known.push_back(fmt::format("\"{}\"", other));
    if (!name.empty())
        ply.complain("lamina",
                     known.empty() ? "must name a table [lamina.NAME], of which there is none"
                                   : fmt::format("must name one of the laminae {}", fmt::join(known, ", ")),
                     fmt::format("\"{}\"", name));
    return {nan, nan, nan, nan, nan, nan};
}

std::vector<LimbPly> plies_in(TableReader& table, const Laminae& laminae) {
    std::vector<LimbPly> plies;
    if (!table.has("plies")) return plies;
    for (TableReader& ply : table.tables("plies")) {
        const std::string name = ply.text("lamina");
        plies.push_back({
            .lamina = named_lamina(ply, name, laminae),
            .lamina_name = name,
            .angle = ply.quantity_or("angle", 0, units::angle, {.at_least = -90.0_deg, .at_most = 90.0_deg}),
            .thickness =
                ply.optional_quantity("thickness", units::length, {.at_least = 0.01_mm, .at_most = 25.0_mm}),
        });
    }
    return plies;
}

}  // namespace

Laminae laminae_in(TableReader table) {
    Laminae laminae;
    for (const std::string& name : table.keys()) laminae[name] = lamina_in(table.table(name));
    return laminae;
}

Limb limb_in(TableReader table, const Laminae& laminae, const std::filesystem::path& folder) {
    Limb limb;
    limb.kind = table.choice<LimbKind>("kind", limb_kind_names);
    limb.length = table.quantity("length", units::length, {.at_least = 100.0_mm, .at_most = 1000.0_mm});
    limb.stations = limb_stations_in(table);
    if (TableReader material = table.table_if_any("material"); material.present())
        limb.material = material_in(material);
    limb.spring_rate = table.optional_quantity("spring_rate", units::spring_rate, positive);
    limb.reference_number = table.number("reference_number", positive);
    limb.lateral = table.quantity("lateral", units::length, {.at_least = 3.0_mm, .at_most = 80.0_mm});
    limb.fork = table.quantity_or("fork", 0, units::length, positive);
    limb.prong_width =
        table.quantity_or("prong_width", 0, units::length, {.at_least = 2.0_mm, .at_most = 40.0_mm});
    limb.bore_offset =
        table.quantity_or("bore_offset", 0, units::length, {.at_least = -30.0_mm, .at_most = 30.0_mm});
    limb.strain_allowable = table.number("strain_allowable", {.above = 0, .at_most = 0.1});
    limb.elements = table.whole_number_or("elements", limb.elements, 2, 1000);
    limb.model = part_model_in(table);
    if (table.has("warping")) limb.warping = table.choice<Warping>("warping", warping_names);
    limb.plies = plies_in(table, laminae);
    limb.mesh = part_mesh_in(table, limb.model, folder);
    limb.shells = table.whole_number_or("shells", limb.shells, 2, 1000);
    limb.shells_across = table.whole_number_or("shells_across", limb.shells_across, 2, 40);
    return limb;
}

}  // namespace limbwright::models
