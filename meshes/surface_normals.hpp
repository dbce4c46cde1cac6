#pragma once

#include <array>
#include <map>
#include <vector>

#include "meshes/surface.hpp"

namespace limbwright::meshes {

/// A cell at an edge; forward if its corners run from the edge's lower node to the higher one.
struct EdgeUse {
    int cell;
    bool forward;
};

/// The cells at every edge; an edge is its two nodes, the lower first.
using Edges = std::map<std::array<int, 2>, std::vector<EdgeUse>>;

[[nodiscard]] Edges edges_of(const Surface& surface);

/// Half the cross product of a cell's diagonals, or of two sides of a triangle: along the mean normal,
/// right-handed about the corners' order, as long as the projected area [mm²].
[[nodiscard]] Vec3 area_vector(const Surface& surface, const SurfaceCell& cell);

/// Fills the corner normals of every cell from the nodes' positions alone. In each connected piece the cells
/// are turned to the sense of the piece's first cell, by reversing the order of their corners. A corner's
/// normal is the mean of the normals of the cells round its node, weighted by their angles there (Thürmer &
/// Wüthrich, J. Graph. Tools 3 (1998) 43–46), of those cells only whose normals are within the crease angle
/// of the cell's own. At edges of more than two cells, and where no sense fits both neighbours (a Möbius
/// band), cells keep their own normals.
///
/// @param crease  [rad], 0 … π
/// @throws std::invalid_argument for a cell with a node that does not exist or without area
void find_normals(Surface& surface, double crease);

}  // namespace limbwright::meshes
