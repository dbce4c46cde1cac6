#pragma once

#include "models/parts/limb_stiffness.hpp"
#include "models/parts/shell_parts.hpp"
#include "solver/elements/beam.hpp"

namespace limbwright::models {

/// The riser as beams or as shells, and the grip's freedoms. Beams are straight pieces, joined at a kink of
/// the line at its own angle: each has its own axes at both ends. The grip's pivot point stays at the world's
/// origin; yaw about Z, then pitch about the riser's lateral axis, then roll, which is held: the archer keeps
/// the bow level.
struct RiserParts {
    solver::ScalarId yaw, pitch, roll;
    solver::Frame grip;  ///< origin at the pivot point, axes of the bow's own frame
    std::vector<solver::Frame>
        sections;  ///< bottom to top; axis 1 up the line (at a kink between both sides), 2 to the left. Of
                   ///< shells: those that carry something, each with its row of nodes as one rigid body
    std::vector<solver::Pose> rest;      ///< of the sections
    std::vector<RiserStation> stations;  ///< cross-section at each of them
    std::vector<std::size_t> beams;      ///< elements between neighbours, or none
    std::vector<PartShell> shells;       ///< or the riser's shells

    /// A frame fixed to the riser's nearest section, by height, that stands at a pose in the bow's own frame
    /// at rest.
    [[nodiscard]] solver::Frame at(const solver::Pose& X) const;
};

/// @param heights  as of `mounted_line` [mm]
[[nodiscard]] RiserParts add_riser(const Riser& riser, const std::vector<double>& heights, Builder& builder);

}  // namespace limbwright::models
