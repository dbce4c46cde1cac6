#pragma once

#include <array>

#include "models/parts/limb_chain.hpp"

namespace limbwright::models {

/// Where a limb of shells stands and what carries it.
struct LimbPlace {
    End end;
    std::string name;                         ///< "top left limb"; of a solid limb the end alone
    solver::Pose root;                        ///< at rest, in the bow's plane; see `limb_root`
    double lateral = 0;                       ///< of the limb's centre line from it, positive left [mm]
    solver::Frame root_frame;                 ///< carries the whole root row
    std::array<solver::Frame, 2> tip_frames;  ///< carry the tip row; of a solid limb: left and right prong
};

/// The limb's surface in its place: the user's mesh, or one of its stations.
[[nodiscard]] meshes::Surface limb_surface(const Limb& limb, const LimbPlace& place);

/// A split limb: its root row follows the pocket and its tip row the bore on the axle, as a beam's end
/// sections do.
[[nodiscard]] LimbRow add_split_limb_shells(const Limb& limb, const LimbStiffness& stiffness,
                                            const LimbPlace& place, Builder& builder);

/// A solid limb: body, left prong, right prong.
[[nodiscard]] std::vector<LimbRow> add_solid_limb_shells(const Limb& limb, const LimbStiffness& stiffness,
                                                         const LimbPlace& place, Builder& builder);

}  // namespace limbwright::models
