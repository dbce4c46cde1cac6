#pragma once

#include <functional>

#include "meshes/surface.hpp"
#include "models/parts/system_builder.hpp"
#include "solver/elements/shell.hpp"

namespace limbwright::models {

/// One shell element of a part.
struct PartShell {
    std::size_t element = 0;
    double thickness = 0;  ///< [mm]
};

/// Nodes of a surface that a frame carries as one rigid body.
struct Pad {
    solver::Frame frame;
    std::vector<int> nodes;
};

/// A surface put into the system.
struct ShellPart {
    std::vector<solver::Frame> nodes;  ///< frame of each of the surface's nodes
    std::vector<PartShell> shells;     ///< in the order of its cells
};

/// Adds a surface, which stands in the world as it does at rest: nodes of pads follow their frames, the
/// others are free.
///
/// @param wall  stiffness of a cell, in the axes that its direction and normals give
[[nodiscard]] ShellPart add_shells(
    const meshes::Surface& surface, std::span<const Pad> pads,
    const std::function<solver::WallStiffness(const meshes::SurfaceCell&)>& wall, Builder& builder);

/// The same surface elsewhere.
[[nodiscard]] meshes::Surface moved(const meshes::Surface& surface, const solver::Pose& X);

}  // namespace limbwright::models
