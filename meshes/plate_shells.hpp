#pragma once

#include <vector>

#include "meshes/surface.hpp"

namespace limbwright::meshes {

/// One station of the line that a plate follows. There axis 1 runs along the line (from the station before to
/// the one after), axis 2 to the left (+Y), and axis 3, across the line, lies in the XZ plane.
struct PlateLine {
    Vec3 position;     ///< middle of the plate's height [mm]
    double thickness;  ///< lateral [mm]
    double height;     ///< across the line: the plate reaches half of it to both sides along axis 3 [mm]
};

/// A window in a plate between two sections of its line; open to the side where it reaches the plate's edge.
struct Opening {
    double from, to;       ///< Z of the line at those sections [mm]
    double behind, front;  ///< between which shares of the plate's height: 0 at the −X edge, 1 at the other
    double corner = 0;     ///< chamfer of its corners, along the line and across it [mm]
};

/// A plate along a line as a grid of cells in the line's direction and across, with openings. The edges run
/// straight from station to station and the surface is ruled between them (bilinear patches, warped where the
/// stations' Y differ).
///
/// Edges of openings and of their chamfers are lines of the whole grid, and so are stations farther than half
/// a cell from all of these; the gaps between them are divided evenly into about the asked numbers of cells.
/// At a chamfer one triangle fills the corner of the opening, measured with the plate's height and slope in
/// the opening's middle. Where another line of the grid lies at between 0.5 and 1.5 sizes from an opening's
/// edge, the chamfer ends at that line instead.
///
/// Nodes stand row by row from the bottom up, within a row from −X to +X. A node's axis 1 is the tangent
/// along the line (at a station, that halfway between both sides'), its axis 3 the normal of the surface, to
/// the left; these are the cells' corner normals too. A cell's direction is the line's. Sets: "bottom" and
/// "top", the end rows.
///
/// @param line    from the bottom up, Z rising; at least two stations
/// @param along   cells from bottom to top, about
/// @param across  cells from edge to edge, about
/// @throws std::invalid_argument for a plate without thickness, height or rise, or curved so tightly that it
/// folds
///                               over; for openings without area, past an end, that cut the plate in two or
///                               meet each other, or whose chamfers find no room. Openings count from 1
[[nodiscard]] Surface plate_surface(const std::vector<PlateLine>& line, const std::vector<Opening>& openings,
                                    int along, int across);

/// Nodes within a radius of a point [mm], in rising order; the nearest one if there are none.
/// @throws std::invalid_argument for a surface without nodes
[[nodiscard]] std::vector<int> nodes_within(const Surface& surface, const Vec3& centre, double radius);

}  // namespace limbwright::meshes
