#include "postproc/scene/shell_solid.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>
#include <utility>

namespace limbwright::postproc {
namespace {

using Polygon = std::vector<int>;

std::vector<Polygon> cells_of(const Piece& piece) {
    std::vector<Polygon> cells;
    for (const auto& quad : piece.quads) cells.emplace_back(quad.begin(), quad.end());
    for (const auto& triangle : piece.triangles) cells.emplace_back(triangle.begin(), triangle.end());
    return cells;
}

const Field& thickness_of(const Piece& surface) {
    const auto found = std::ranges::find(surface.cell_fields, "thickness", &Field::name);
    if (found == surface.cell_fields.end())
        throw std::invalid_argument(surface.name + ": its cells have no thickness");
    return *found;
}

/// From every point to the top face that is made of it.
std::vector<Vec3> half_thicknesses(const Piece& surface, const std::vector<Polygon>& cells) {
    const Field& thickness = thickness_of(surface);
    std::vector<Vec3> normals(surface.points.size(), Vec3::Zero());
    std::vector<double> sums(surface.points.size(), 0), counts(surface.points.size(), 0);
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const Vec3& first = surface.points[cells[c][0]];
        Vec3 area = Vec3::Zero();
        for (std::size_t i = 1; i + 1 < cells[c].size(); ++i)
            area += (surface.points[cells[c][i]] - first).cross(surface.points[cells[c][i + 1]] - first);
        for (const int point : cells[c]) {
            normals[point] += area;
            sums[point] += thickness.values[c];
            ++counts[point];
        }
    }
    for (std::size_t p = 0; p < normals.size(); ++p)
        if (counts[p] > 0) normals[p] = normals[p].normalized() * (sums[p] / counts[p] / 2);
    return normals;
}

/// The values of the named carriers, in that order.
std::vector<Field> picked(const std::vector<Field>& fields, const std::vector<std::size_t>& carriers) {
    std::vector<Field> all;
    for (const Field& field : fields) {
        all.push_back({field.name, field.unit, field.components, {}});
        for (const std::size_t carrier : carriers) {
            const auto begin = field.values.begin() + static_cast<std::ptrdiff_t>(carrier * field.components);
            all.back().values.insert(all.back().values.end(), begin, begin + field.components);
        }
    }
    return all;
}

/// Cells of a closed piece, each with the surface's cell that it is made of.
struct Faces {
    std::vector<std::array<int, 4>> quads{};
    std::vector<std::array<int, 3>> triangles{};
    std::vector<std::size_t> of_quads{}, of_triangles{};

    void add(const Polygon& corners, std::size_t cell) {
        if (corners.size() == 4) {
            quads.push_back({corners[0], corners[1], corners[2], corners[3]});
            of_quads.push_back(cell);
        } else {
            triangles.push_back({corners[0], corners[1], corners[2]});
            of_triangles.push_back(cell);
        }
    }
};

/// @param below  from a point of the top face to the one under it
Faces faces_round(const std::vector<Polygon>& cells, int below) {
    std::set<std::pair<int, int>> edges;
    const auto next = [](const Polygon& cell, std::size_t i) { return cell[(i + 1) % cell.size()]; };
    for (const Polygon& cell : cells)
        for (std::size_t i = 0; i < cell.size(); ++i) edges.emplace(cell[i], next(cell, i));
    Faces faces;
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const Polygon& top = cells[c];
        Polygon bottom(top.rbegin(), top.rend());
        for (int& point : bottom) point += below;
        faces.add(top, c);
        faces.add(bottom, c);
        for (std::size_t i = 0; i < top.size(); ++i) {
            const int a = top[i], b = next(top, i);
            // A neighbour runs along the common edge the other way.
            if (!edges.contains({b, a})) faces.add({b, a, a + below, b + below}, c);
        }
    }
    return faces;
}

}  // namespace

Piece thickened(const Piece& surface) {
    const std::vector<Polygon> cells = cells_of(surface);
    const std::vector<Vec3> half = half_thicknesses(surface, cells);
    const std::size_t count = surface.points.size();
    Piece wall;
    wall.name = surface.name;
    std::vector<std::size_t> of_points;
    for (const int side : {1, -1})
        for (std::size_t p = 0; p < count; ++p) {
            wall.points.push_back(surface.points[p] + side * half[p]);
            of_points.push_back(p);
        }
    const Faces faces = faces_round(cells, static_cast<int>(count));
    wall.quads = faces.quads;
    wall.triangles = faces.triangles;
    std::vector<std::size_t> of_cells = faces.of_quads;
    of_cells.insert(of_cells.end(), faces.of_triangles.begin(), faces.of_triangles.end());
    wall.point_fields = picked(surface.point_fields, of_points);
    wall.cell_fields = picked(surface.cell_fields, of_cells);
    return wall;
}

}  // namespace limbwright::postproc
