#pragma once

#include <filesystem>

#include "meshes/surface.hpp"

namespace limbwright::postproc {

/// What `meshes::read_surface` promises, where VTK is at hand.
[[nodiscard]] meshes::Surface read_vtk_surface(const std::filesystem::path& file);

}  // namespace limbwright::postproc
