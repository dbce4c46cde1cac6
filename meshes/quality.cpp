#include "meshes/quality.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "meshes/surface_normals.hpp"

namespace limbwright::meshes {
namespace {

double angle_between(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b));
}

/// Sides and corner products of a cell.
struct Shape {
    int count;
    std::array<Vec3, 4> sides;  ///< from corner k to the next
    std::array<Vec3, 4> turns;  ///< side before × side after corner k
    Vec3 area;

    Shape(const Surface& surface, const SurfaceCell& cell)
        : count(cell.count()), area(area_vector(surface, cell)) {
        for (int k = 0; k < count; ++k)
            sides[k] = surface.nodes[cell.corners[(k + 1) % count]].position -
                       surface.nodes[cell.corners[k]].position;
        for (int k = 0; k < count; ++k) turns[k] = before(k).cross(sides[k]);
    }

    [[nodiscard]] const Vec3& before(int k) const { return sides[(k + count - 1) % count]; }
    [[nodiscard]] double jacobian(int k) const { return area.normalized().dot(turns[k]); }

    [[nodiscard]] double angle(int k) const {
        const double angle = angle_between(-before(k), sides[k]);
        return jacobian(k) < 0 ? 2 * std::numbers::pi - angle : angle;
    }
    [[nodiscard]] double longest() const {
        double longest = 0;
        for (int k = 0; k < count; ++k) longest = std::max(longest, sides[k].norm());
        return longest;
    }
    [[nodiscard]] double shortest() const {
        double shortest = INFINITY;
        for (int k = 0; k < count; ++k) shortest = std::min(shortest, sides[k].norm());
        return shortest;
    }
    [[nodiscard]] double aspect() const {
        double round = 0;
        for (int k = 0; k < count; ++k) round += sides[k].norm();
        return longest() * round / ((count == 3 ? 4 * std::sqrt(3.) : 4.) * area.norm());
    }
    [[nodiscard]] double warp() const {
        return count == 3 ? 0
                          : std::max(angle_between(turns[0], turns[2]), angle_between(turns[1], turns[3]));
    }
    [[nodiscard]] double jacobian_ratio() const {
        double least = INFINITY, largest = 0;
        for (int k = 0; k < count; ++k) {
            least = std::min(least, jacobian(k));
            largest = std::max(largest, jacobian(k));
        }
        return least / largest;
    }
};

/// True if the cell's nodes exist and differ; complains otherwise.
bool nodes_fit(const Surface& surface, std::size_t c, std::vector<std::string>& complaints) {
    const SurfaceCell& cell = surface.cells[c];
    for (int k = 0; k < cell.count(); ++k) {
        const int node = cell.corners[k];
        if (node < 0 || node >= static_cast<int>(surface.nodes.size())) {
            complaints.push_back(fmt::format("cell {} has node {}, which does not exist", c, node));
            return false;
        }
        if (std::count(cell.corners.begin(), cell.corners.begin() + k, node) > 0) {
            complaints.push_back(fmt::format("cell {} has node {} twice", c, node));
            return false;
        }
    }
    return true;
}

void complain_of_normals(const SurfaceCell& cell, std::size_t c, const Shape& shape,
                         std::vector<std::string>& complaints) {
    const auto first = std::find_if(cell.normals.begin(), cell.normals.begin() + shape.count,
                                    [](const Vec3& n) { return !n.isZero(); });
    if (first == cell.normals.begin() + shape.count) return;
    const double side = shape.area.dot(*first);
    for (int k = 0; k < shape.count; ++k)
        if (!(side * shape.area.dot(cell.normals[k]) > 0)) {
            complaints.push_back(
                fmt::format("cell {}: its corner normals do not all point to the same face", c));
            return;
        }
}

/// Adds the measures of one cell.
void measure(const SurfaceCell& cell, std::size_t c, const Shape& shape, SurfaceQuality& q) {
    for (int k = 0; k < shape.count; ++k) {
        q.least_angle = std::min(q.least_angle, shape.angle(k));
        q.largest_angle = std::max(q.largest_angle, shape.angle(k));
        if (!(shape.jacobian(k) > 0))
            q.complaints.push_back(
                fmt::format("cell {} is folded over or concave at node {}", c, cell.corners[k]));
    }
    q.largest_aspect = std::max(q.largest_aspect, shape.aspect());
    q.largest_warp = std::max(q.largest_warp, shape.warp());
    q.least_jacobian_ratio = std::min(q.least_jacobian_ratio, shape.jacobian_ratio());
    q.largest_thickness_ratio = std::max(q.largest_thickness_ratio, cell.thickness / shape.shortest());
}

/// Number of pieces that share no node, counting used nodes only.
int count_pieces(const Surface& surface, const std::vector<std::size_t>& cells) {
    std::vector<int> leader(surface.nodes.size());
    std::iota(leader.begin(), leader.end(), 0);
    const auto find = [&](int n) {
        while (leader[n] != n) n = leader[n] = leader[leader[n]];
        return n;
    };
    std::vector<bool> used(surface.nodes.size(), false);
    for (const std::size_t c : cells) {
        const SurfaceCell& cell = surface.cells[c];
        for (int k = 0; k < cell.count(); ++k) {
            used[cell.corners[k]] = true;
            leader[find(cell.corners[k])] = find(cell.corners[0]);
        }
    }
    int pieces = 0;
    for (std::size_t n = 0; n < leader.size(); ++n) pieces += used[n] && leader[n] == static_cast<int>(n);
    return pieces;
}

}  // namespace

SurfaceQuality quality(const Surface& surface) {
    SurfaceQuality q;
    q.cells = static_cast<int>(surface.cells.size());
    q.nodes = static_cast<int>(surface.nodes.size());
    q.least_angle = q.least_jacobian_ratio = INFINITY;
    for (int n = 0; n < q.nodes; ++n)
        if (!surface.nodes[n].position.allFinite())
            q.complaints.push_back(fmt::format("node {} stands nowhere: its position is not a number", n));
    std::vector<std::size_t> sound;
    std::vector<bool> used(surface.nodes.size(), false);
    bool measured = false;
    for (std::size_t c = 0; c < surface.cells.size(); ++c) {
        const SurfaceCell& cell = surface.cells[c];
        q.triangles += cell.count() == 3;
        for (int k = 0; k < cell.count(); ++k)
            if (cell.corners[k] >= 0 && cell.corners[k] < q.nodes) used[cell.corners[k]] = true;
        if (!nodes_fit(surface, c, q.complaints)) continue;
        sound.push_back(c);
        if (!(cell.thickness > 0)) q.complaints.push_back(fmt::format("cell {} has no thickness", c));
        const Shape shape(surface, cell);
        if (!(shape.area.norm() > 1e-12 * shape.longest() * shape.longest())) {
            q.complaints.push_back(fmt::format("cell {} has no area", c));
            continue;
        }
        measured = true;
        measure(cell, c, shape, q);
        complain_of_normals(cell, c, shape, q.complaints);
    }
    if (!measured) q.least_angle = q.least_jacobian_ratio = 0;
    if (surface.cells.empty()) q.complaints.push_back("there are no cells");
    for (int n = 0; n < q.nodes; ++n)
        if (!used[n]) q.complaints.push_back(fmt::format("node {} belongs to no cell", n));
    if (const int pieces = count_pieces(surface, sound); pieces > 1)
        q.complaints.push_back(fmt::format("the surface falls into {} pieces that share no node", pieces));
    for (const auto& [nodes, uses] : edges_of(surface))
        if (uses.size() > 2)
            q.notes.push_back(
                fmt::format("{} cells meet at the edge of nodes {} and {}", uses.size(), nodes[0], nodes[1]));
    return q;
}

}  // namespace limbwright::meshes
