#pragma once

#include <algorithm>
#include <map>

#include "meshes/surface_normals.hpp"

/// What tests of surfaces ask of any mesh.
namespace limbwright::testing {

/// Sum of the cells' areas; exact where they are flat [mm²].
inline double area(const meshes::Surface& surface) {
    double sum = 0;
    for (const meshes::SurfaceCell& cell : surface.cells) sum += meshes::area_vector(surface, cell).norm();
    return sum;
}

/// True if every edge is shared by two cells that run along it in opposite ways, or belongs to one alone.
inline bool is_conforming(const meshes::Surface& surface) {
    const meshes::Edges edges = meshes::edges_of(surface);
    return std::all_of(edges.begin(), edges.end(), [](const auto& edge) {
        const auto& uses = edge.second;
        return uses.size() == 1 || (uses.size() == 2 && uses[0].forward != uses[1].forward);
    });
}

/// Number of closed loops of edges that belong to one cell alone; −1 if two loops touch at a node.
inline int boundary_loops(const meshes::Surface& surface) {
    std::map<int, int> next;
    for (const auto& [nodes, uses] : meshes::edges_of(surface)) {
        if (uses.size() != 1) continue;
        const int from = uses[0].forward ? nodes[0] : nodes[1], to = uses[0].forward ? nodes[1] : nodes[0];
        if (!next.emplace(from, to).second) return -1;
    }
    int loops = 0;
    for (; !next.empty(); ++loops)
        for (auto at = next.begin(); at != next.end();) {
            const int to = at->second;
            next.erase(at);
            at = next.find(to);
        }
    return loops;
}

/// True if for every node another one stands within the tolerance of its mirror image.
template <class Mirror>
bool is_symmetric(const meshes::Surface& surface, const Mirror& mirror, double tolerance) {
    return std::all_of(surface.nodes.begin(), surface.nodes.end(), [&](const solver::Pose& node) {
        const solver::Vec3 image = mirror(node.position);
        return std::any_of(surface.nodes.begin(), surface.nodes.end(), [&](const solver::Pose& other) {
            return (other.position - image).norm() < tolerance;
        });
    });
}

/// Largest distance of any cell's corner normal from the third axis of its node's frame.
inline double largest_normal_error(const meshes::Surface& surface) {
    double largest = 0;
    for (const meshes::SurfaceCell& cell : surface.cells)
        for (int k = 0; k < cell.count(); ++k) {
            const solver::Vec3 axis =
                surface.nodes[cell.corners[k]].rotation * solver::Vec3(solver::Vec3::UnitZ());
            largest = std::max(largest, (cell.normals[k] - axis).norm());
        }
    return largest;
}

}  // namespace limbwright::testing
