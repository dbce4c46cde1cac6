#pragma once

#include "models/bow/bow.hpp"

namespace limbwright::models {

/// A station a share u of the way from one to another.
[[nodiscard]] RiserStation between(const RiserStation& a, const RiserStation& b, double u);

/// Stations whose heights differ by less are one: a shorter piece would be so stiff that rounding shows [mm].
constexpr double same_station = 0.3;

/// Z at which pockets and, where there is one, cable guide are mounted on the riser [mm].
[[nodiscard]] std::vector<double> mount_heights(const Bow& bow);

/// The riser's line with a station wherever something is mounted on it: at the pivot's height and at given
/// ones [mm]. A height past the line's ends adds none.
[[nodiscard]] std::vector<RiserStation> mounted_line(const Riser& riser, const std::vector<double>& heights);

/// The riser as a surface in the bow's own frame: the user's mesh, or a plate along its line with its
/// cut-outs, whose corners are chamfered by a fifth of their smaller side, at most 6 mm.
///
/// @param heights  as of `mounted_line` [mm]
/// @throws std::invalid_argument for cut-outs that leave no plate, see `meshes::plate_surface`
[[nodiscard]] meshes::Surface riser_surface(const Riser& riser, const std::vector<double>& heights);

}  // namespace limbwright::models
