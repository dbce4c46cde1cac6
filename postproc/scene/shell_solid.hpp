#pragma once

#include "postproc/scene/scene.hpp"

namespace limbwright::postproc {

/// A surface as the wall that it stands for, closed, faces turned outward: its points moved by half of the
/// thickness to either side, and faces along its rims. All fields of the surface come along: both points
/// made of a point have its values; both faces made of a cell, and those along its rims, have the cell's.
///
/// @param surface  quads and triangles with the cell field "thickness" [mm], counter-clockwise for who sees
///                 the top; a point moves along the mean normal of its cells, by half of their mean thickness
/// @throws std::invalid_argument if there is no such field
[[nodiscard]] Piece thickened(const Piece& surface);

}  // namespace limbwright::postproc
