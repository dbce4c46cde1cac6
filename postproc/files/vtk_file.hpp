#pragma once

#include <filesystem>
#include <span>

#include "postproc/scene/scene.hpp"

/// Scenes as VTK files (sole user of VTK).
namespace limbwright::postproc {

/// A draw that a viewer plays as an animation: `draw.pvd`, the collection, and beside it the folder
/// `draw_states` with one multi-block file a scene. Blocks are the pieces, by name; a field's array is called
/// "name [unit]"; the time of each step is the scene's parameter, the draw [mm]. Points and fields are
/// doubles, zlib-compressed.
///
/// An interrupted run leaves the old files or whole new ones.
///
/// @throws std::invalid_argument if `pvd` does not end in ".pvd" or a field does not fit its piece's points
/// or cells
/// @throws std::runtime_error if something cannot be written, or the folder exists and holds other things
void write_vtk(const std::filesystem::path& pvd, std::span<const Scene> scenes);

}  // namespace limbwright::postproc
