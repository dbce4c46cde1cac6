#pragma once

#include <vector>

#include "meshes/strip.hpp"
#include "meshes/surface.hpp"

namespace limbwright::meshes {

/// A strip as a structured grid of four-cornered cells: a row of nodes across the width at every share, from
/// root to tip, and within a row from right (−axis 2) to left. A node's frame is that of its section, with
/// axis 3 as the normal; a cell's direction is the chord of the centre line under it. Sets: "root" and "tip",
/// the end rows, and "line", the nodes on the centre line from root to tip.
///
/// @param first    section at shares.front(); axis 1 along the strip, 2 across its width, 3 across its
/// thickness
/// @param lateral  how far the strip stands from `first` along axis 2 [mm]
/// @param shares   of the length, rising, within 0 … 1; at least two
/// @param across   cells over the width; even, so that nodes stand on the centre line
/// @throws std::invalid_argument for other shares or numbers, or a strip without width or thickness
[[nodiscard]] Surface strip_surface(const Strip& strip, const Pose& first, double lateral,
                                    const std::vector<double>& shares, int across);

/// A strip that ends in two prongs: its whole width up to the fork, beyond it two prongs of constant width
/// with nothing between them, all as thick as the strip.
///
///     right      ________________________
///               |                ________|  right prong, its middle at −prong_lateral
///     root      |               |________   ← fork
///               |________________________|  left prong, its middle at +prong_lateral
///     left
///
/// Both edges of both prongs go on as lines of the body's grid, which widen and narrow with it. Where the
/// strip at the fork is not as wide as the prongs' outer edges are apart, the last third of the body widens
/// or narrows evenly to meet them. Rows and frames as in `strip_surface`. Sets: "root"; "line", the body's
/// centre line from root to fork; "left tip" and "right tip"; "left line" and "right line", the prongs'
/// centre lines from fork to tip.
///
/// @param across         cells over the whole width, the gap's among them; even, at least 6: two for each
/// prong
///                       and for the gap. They are shared out so that the widths of cells differ least
/// @param fork_share     one of the shares, neither the first nor the last
/// @param prong_width    [mm]
/// @param prong_lateral  from the centre line to a prong's [mm]
/// @throws std::invalid_argument for other shares or numbers, prongs that leave no gap, or prongs whose outer
///                               edges are farther apart than 1.1 widths of the strip at the fork
[[nodiscard]] Surface forked_strip_surface(const Strip& strip, const Pose& first,
                                           const std::vector<double>& shares, int across, double fork_share,
                                           double prong_width, double prong_lateral);

}  // namespace limbwright::meshes
