#pragma once

#include <array>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "solver/numbers/pose.hpp"

namespace limbwright::meshes {

/// @throws std::invalid_argument with that text unless the condition holds
inline void demand(bool condition, const std::string& what) {
    if (!condition) throw std::invalid_argument(what);
}

using solver::Pose;
using solver::Vec3;

/// One shell element of a surface at rest.
struct SurfaceCell {
    std::array<int, 4> corners{-1, -1, -1, -1};  ///< nodes in order round it; the fourth of a triangle is −1
    std::array<Vec3, 4> normals{};   ///< unit normals at the corners, all toward the same (top) face
    double thickness = 0;            ///< at the centre [mm]
    Vec3 direction = Vec3::UnitX();  ///< its projection on the cell is the wall's axis 1

    [[nodiscard]] int count() const { return corners[3] < 0 ? 3 : 4; }
};

/// What every mesher of surfaces returns: nodes on the reference surface at rest, cells, and named sets of
/// nodes.
struct Surface {
    std::vector<Pose> nodes;
    std::vector<SurfaceCell> cells;
    std::map<std::string, std::vector<int>> sets;
};

}  // namespace limbwright::meshes
