#include "models/bow/table_in.hpp"

#include <fmt/format.h>

#include <memory>
#include <stdexcept>
#include <utility>

#include "meshes/mesh_file.hpp"
#include "meshes/quality.hpp"
#include "meshes/surface_normals.hpp"
#include "models/bow/groove_file.hpp"

namespace limbwright::models {
namespace {

/// Cells that meet at more than this have an edge between them, not a bend [rad].
constexpr double crease = 40 * units::degree;

}  // namespace

void TableIn::complain(std::string_view key, std::string wanted, std::string found) {
    table_.complain(key, std::move(wanted), std::move(found));
}

void TableIn::quantity(const Key& key, double& value, const Dimension& dimension, Range range) {
    if (asks(key)) value = table_.quantity(key.name, dimension, range);
}

void TableIn::quantity(const Key& key, std::optional<double>& value, const Dimension& dimension,
                       Range range) {
    value = table_.optional_quantity(key.name, dimension, range);
}

void TableIn::quantities(const Key& key, std::vector<double>& values, const Dimension& dimension,
                         Range range) {
    if (asks(key)) values = table_.quantities(key.name, dimension, range);
}

void TableIn::number(const Key& key, double& value, Range range) {
    if (asks(key)) value = table_.number(key.name, range);
}

void TableIn::number(const Key& key, std::optional<double>& value, Range range) {
    value.reset();
    if (table_.has(key.name)) value = table_.number(key.name, range);
}

void TableIn::numbers(const Key& key, std::array<double, 2>& values) {
    const std::vector<double> read = table_.numbers_or(key.name, {values[0], values[1]}, 2);
    values = {read[0], read[1]};
}

void TableIn::whole_number(const Key& key, int& value, int least, int most) {
    value = table_.whole_number_or(key.name, value, least, most);
}

void TableIn::point(const Key& key, Vec2& p, Range range) {
    if (asks(key)) p = table_.plane_point(key.name, range);
}

void TableIn::point(const Key& key, Vec3& p, Range range) {
    if (asks(key)) p = table_.point(key.name, range);
}

void TableIn::text(const Key& key, std::string& value) {
    if (asks(key)) value = table_.text(key.name);
}

void TableIn::file(const Key& key, std::optional<Track::Traced>& groove) {
    const std::string name = table_.text_or(key.name, {});
    if (name.empty()) return;
    const std::filesystem::path path = folder_ / name;
    groove = read_traced(path, path.string(), table_.path_of(key.name), complaints_);
    groove->file = name;
}

void TableIn::file(const Key& key, std::optional<Track::Support>& groove) {
    const std::string name = table_.text_or(key.name, {});
    if (name.empty()) return;
    const std::filesystem::path path = folder_ / name;
    groove = read_support(path, path.string(), table_.path_of(key.name), complaints_);
    groove->file = name;
}

void TableIn::file(const Key& key, std::optional<PartMesh>& mesh, PartModel model) {
    if (!table_.has(key.name)) return;
    mesh = PartMesh{.file = table_.text(key.name)};
    if (mesh->file.empty() || model != PartModel::shell) return;
    try {
        meshes::Surface surface = meshes::read_surface(folder_ / mesh->file);
        find_normals(surface, crease);
        for (const std::string& flaw : quality(surface).complaints)
            complain(key.name, fmt::format("must name a sound mesh: {}", flaw), mesh->file);
        mesh->surface = std::make_shared<const meshes::Surface>(std::move(surface));
    } catch (const std::runtime_error& error) {
        complain(key.name, fmt::format("must name a file that holds a surface: {}", error.what()), {});
    }
}

void TableIn::table(const Key& key, Form, const std::function<void(PartTable&)>& describe) {
    if (!asks(key)) return;
    TableIn reading(table_.table(key.name), complaints_, folder_);
    describe(reading);
}

std::vector<std::string> TableIn::names(std::vector<std::string>) {
    return table_.keys();
}

void TableIn::left_out(std::string_view key, std::string_view) {
    complaints_.silence(table_.path_of(key));
}

void TableIn::choose(const Key& key, std::size_t& index, const std::vector<std::string_view>& names) {
    if (asks(key)) index = table_.choice_index(key.name, names).value_or(0);
}

void TableIn::list(const Key& key, std::size_t, const std::function<void(std::size_t)>& resize,
                   const std::function<void(PartTable&, std::size_t)>& row) {
    if (!asks(key)) return;
    const std::vector<TableReader> items = table_.tables(key.name);
    resize(items.size());
    for (std::size_t i = 0; i < items.size(); ++i) {
        TableIn item(items[i], complaints_, folder_);
        row(item, i);
    }
}

}  // namespace limbwright::models
