#include "models/bow/part_reader.hpp"

#include <fmt/format.h>

#include <cmath>
#include <memory>
#include <stdexcept>
#include <string>

#include "meshes/mesh_file.hpp"
#include "meshes/quality.hpp"
#include "meshes/surface_normals.hpp"
#include "models/bow/bow_enum_names.hpp"

namespace limbwright::models {
namespace {

/// Cells that meet at more than this have an edge between them, not a bend [rad].
constexpr double crease = 40 * units::degree;

}  // namespace

Material material_in(TableReader table) {
    const Material material{
        .along = table.quantity("youngs_modulus", units::stress, youngs_moduli),
        .shear = table.quantity("shear_modulus", units::stress, shear_moduli),
        // From foam to tungsten: wide enough for every part, narrow enough to catch a slipped power of ten.
        .density =
            table.optional_quantity("density", units::density, {.at_least = 50e-12, .at_most = 20000e-12}),
        .across = table.optional_quantity("across", units::stress, moduli_across),
        .poisson =
            table.has("poisson") ? std::optional(table.number("poisson", poissons_ratios)) : std::nullopt,
    };
    if (material.across && material.poisson)
        complain_if_unstable(table, material.along, *material.across, *material.poisson);
    return material;
}

void complain_if_unstable(TableReader& table, double along, double across, double poisson) {
    const double limit = std::sqrt(along / across);
    if (poisson >= limit)
        table.complain(
            "poisson",
            fmt::format("must be below {:.4g}, the square root of youngs_modulus over across", limit),
            fmt::format("{:.6g}", poisson));
}

PartModel part_model_in(TableReader& table) {
    return table.has("model") ? table.choice<PartModel>("model", part_model_names) : PartModel::beam;
}

std::optional<PartMesh> part_mesh_in(TableReader& table, PartModel model,
                                     const std::filesystem::path& folder) {
    if (!table.has("mesh")) return {};
    PartMesh mesh{.file = table.text("mesh")};
    if (mesh.file.empty() || model != PartModel::shell) return mesh;
    try {
        meshes::Surface surface = meshes::read_surface(folder / mesh.file);
        find_normals(surface, crease);
        for (const std::string& flaw : quality(surface).complaints)
            table.complain("mesh", fmt::format("must name a sound mesh: {}", flaw), mesh.file);
        mesh.surface = std::make_shared<const meshes::Surface>(std::move(surface));
    } catch (const std::runtime_error& error) {
        table.complain("mesh", fmt::format("must name a file that holds a surface: {}", error.what()));
    }
    return mesh;
}

}  // namespace limbwright::models
