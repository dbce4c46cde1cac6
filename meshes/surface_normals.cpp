#include "meshes/surface_normals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <numbers>
#include <stdexcept>

namespace limbwright::meshes {
namespace {

void check(const Surface& surface) {
    const int nodes = static_cast<int>(surface.nodes.size());
    for (std::size_t c = 0; c < surface.cells.size(); ++c) {
        const SurfaceCell& cell = surface.cells[c];
        for (int k = 0; k < cell.count(); ++k)
            if (cell.corners[k] < 0 || cell.corners[k] >= nodes)
                throw std::invalid_argument(
                    fmt::format("cell {} has node {}, which does not exist", c, cell.corners[k]));
        double size = 0;
        for (int k = 0; k < cell.count(); ++k)
            size = std::max(size, (surface.nodes[cell.corners[k]].position -
                                   surface.nodes[cell.corners[(k + 1) % cell.count()]].position)
                                      .squaredNorm());
        if (!(area_vector(surface, cell).norm() > 1e-12 * size))
            throw std::invalid_argument(fmt::format("cell {} has no area", c));
    }
}

bool same_sense(const std::vector<EdgeUse>& uses, const std::vector<int>& sense) {
    return (uses[0].forward != uses[1].forward) == (sense[uses[0].cell] == sense[uses[1].cell]);
}

/// +1 for cells that stay as they are, −1 for those to be reversed; the first cell of every piece stays.
std::vector<int> find_senses(const Surface& surface, const Edges& edges) {
    std::vector<std::vector<const std::vector<EdgeUse>*>> edges_of_cell(surface.cells.size());
    for (const auto& [nodes, uses] : edges)
        if (uses.size() == 2)
            for (const EdgeUse& use : uses) edges_of_cell[use.cell].push_back(&uses);
    std::vector<int> sense(surface.cells.size(), 0);
    for (std::size_t start = 0; start < sense.size(); ++start) {
        if (sense[start] != 0) continue;
        sense[start] = 1;
        std::deque<int> waiting{static_cast<int>(start)};
        for (; !waiting.empty(); waiting.pop_front()) {
            const int here = waiting.front();
            for (const std::vector<EdgeUse>* uses : edges_of_cell[here]) {
                const int other = uses->at(0).cell == here ? uses->at(1).cell : uses->at(0).cell;
                if (sense[other] != 0) continue;
                sense[other] = uses->at(0).forward != uses->at(1).forward ? sense[here] : -sense[here];
                waiting.push_back(other);
            }
        }
    }
    return sense;
}

double corner_angle(const Surface& surface, const SurfaceCell& cell, int k) {
    const int n = cell.count();
    const Vec3& here = surface.nodes[cell.corners[k]].position;
    const Vec3 a = surface.nodes[cell.corners[(k + 1) % n]].position - here;
    const Vec3 b = surface.nodes[cell.corners[(k + n - 1) % n]].position - here;
    return std::atan2(a.cross(b).norm(), a.dot(b));
}

}  // namespace

Edges edges_of(const Surface& surface) {
    Edges edges;
    for (std::size_t c = 0; c < surface.cells.size(); ++c) {
        const SurfaceCell& cell = surface.cells[c];
        for (int k = 0; k < cell.count(); ++k) {
            const int from = cell.corners[k], to = cell.corners[(k + 1) % cell.count()];
            edges[{std::min(from, to), std::max(from, to)}].push_back({static_cast<int>(c), from < to});
        }
    }
    return edges;
}

Vec3 area_vector(const Surface& surface, const SurfaceCell& cell) {
    const auto corner = [&](int k) -> const Vec3& { return surface.nodes[cell.corners[k]].position; };
    if (cell.count() == 3) return 0.5 * (corner(1) - corner(0)).cross(corner(2) - corner(0));
    return 0.5 * (corner(2) - corner(0)).cross(corner(3) - corner(1));
}

void find_normals(Surface& surface, double crease) {
    check(surface);
    const Edges edges = edges_of(surface);
    const std::vector<int> sense = find_senses(surface, edges);
    std::vector<bool> at_junction(surface.nodes.size(), false);
    for (const auto& [nodes, uses] : edges)
        if (uses.size() > 2 || (uses.size() == 2 && !same_sense(uses, sense)))
            for (const int node : nodes) at_junction[node] = true;

    struct Corner {
        std::size_t cell;
        double angle;
    };
    std::vector<std::vector<Corner>> round(surface.nodes.size());
    std::vector<Vec3> normals;
    for (std::size_t c = 0; c < surface.cells.size(); ++c) {
        SurfaceCell& cell = surface.cells[c];
        if (sense[c] < 0) std::reverse(cell.corners.begin() + 1, cell.corners.begin() + cell.count());
        normals.push_back(area_vector(surface, cell).normalized());
        for (int k = 0; k < cell.count(); ++k)
            round[cell.corners[k]].push_back({c, corner_angle(surface, cell, k)});
    }
    // A little above the angle itself, so that a flat surface is smooth at a crease of 0.
    const double least_cosine = std::cos(std::clamp(crease, 0., std::numbers::pi)) - 1e-12;
    for (std::size_t c = 0; c < surface.cells.size(); ++c) {
        SurfaceCell& cell = surface.cells[c];
        for (int k = 0; k < cell.count(); ++k) {
            const int node = cell.corners[k];
            Vec3 sum = Vec3::Zero();
            for (const Corner& corner : round[node])
                if (normals[c].dot(normals[corner.cell]) >= least_cosine)
                    sum += corner.angle * normals[corner.cell];
            const bool own = at_junction[node] || sum.norm() < 1e-6;  // normals all round a spike cancel
            cell.normals[k] = own ? normals[c] : Vec3(sum.normalized());
        }
    }
}

}  // namespace limbwright::meshes
