#pragma once

#include <filesystem>

#include "meshes/surface.hpp"

namespace limbwright::meshes {

/// A surface from a VTK file in mm, an unstructured grid: XML (.vtu) or legacy (.vtk).
///
/// - cells: triangles (VTK's type 5) and quads (9), nothing else
/// - cell array "thickness" [mm]; or a point array of that name, of which each cell takes its corners' mean
/// - cell array "direction", 3 components, if given: `SurfaceCell::direction`
/// - a set of nodes is a point array of integers by the set's name, 1 for its members and 0 for all others;
///   or a field array of integers by that name that lists the points, counted from 0. A point array with
///   other integers is no set
///
/// Points that are no cell's corner are left out. Nodes are not turned; normals are left zero, for
/// `surface_normals` to find.
///
/// @throws std::runtime_error with the file, what is wanted and what was found
[[nodiscard]] Surface read_surface(const std::filesystem::path& file);

}  // namespace limbwright::meshes

/// The reader itself, an entry of `liblimbwright_files.so`: VTK takes longer to start than most commands take
/// to run, so that `read_surface` opens that library when a file is first read.
extern "C" void limbwright_read_surface(const std::filesystem::path& file,
                                        limbwright::meshes::Surface& surface);
