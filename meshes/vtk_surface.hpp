#pragma once

#include <filesystem>

#include "meshes/surface.hpp"

namespace limbwright::meshes {

/// What `read_surface` promises, where VTK is at hand.
[[nodiscard]] Surface read_vtk_surface(const std::filesystem::path& file);

}  // namespace limbwright::meshes
