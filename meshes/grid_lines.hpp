#pragma once

#include <vector>

namespace limbwright::meshes {

/// A gap of the grid, from an opening's edge inward, that is to hold one cell: where a chamfer cuts a corner
/// off.
struct Chamfer {
    double edge;
    double size;  ///< signed: negative from an upper edge downward
    int opening;  ///< its number, for complaints
};

/// Lines of a grid in one direction, rising: the edges; the ends of the chamfers, in place of which a line
/// between 0.5 and 1.5 sizes from the chamfer's edge is taken where there is one; and wishes that lie at
/// least half a step from all of these. Gaps are divided evenly into pieces of about the same step, those of
/// chamfers never.
///
/// @param edges   lines that must be there, the first two of them the lower and the upper end
/// @param pieces  about how many from end to end; the step is their distance by it
/// @throws std::invalid_argument for pieces < 1, or a line nearer than half a chamfer's size to the chamfer's
/// edge
[[nodiscard]] std::vector<double> grid_lines(std::vector<double> edges, std::vector<Chamfer> chamfers,
                                             const std::vector<double>& wishes, int pieces);

}  // namespace limbwright::meshes
