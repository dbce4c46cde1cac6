#pragma once

#include "models/bow/bow.hpp"

namespace limbwright::models {

/// A station a share u of the way from one to another.
[[nodiscard]] RiserStation between(const RiserStation& a, const RiserStation& b, double u);

/// The line with one more station at a given height, if it has none there [mm].
void put_station(std::vector<RiserStation>& line, double height);

/// Z at which the cable guide is mounted on the riser, where there is one [mm].
[[nodiscard]] std::optional<double> guide_height(const Bow& bow);

/// The riser's line with a station wherever something is mounted between the pockets: at the pivot's height
/// and, where there is one, at the cable guide's [mm].
[[nodiscard]] std::vector<RiserStation> mounted_line(const Riser& riser, std::optional<double> guide_height);

/// The riser as a surface in the bow's own frame: the user's mesh, or a plate along its line with its
/// cut-outs, whose corners are chamfered by a fifth of their smaller side, at most 6 mm.
///
/// @throws std::invalid_argument for cut-outs that leave no plate, see `meshes::plate_surface`
[[nodiscard]] meshes::Surface riser_surface(const Riser& riser, std::optional<double> guide_height);

}  // namespace limbwright::models
