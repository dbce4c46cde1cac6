#pragma once

#include "models/states/stringing.hpp"

/// What the parts of a bow carry in one state. Left and right, forward and up are the riser's, not the
/// world's.
namespace limbwright::models {

/// What string, cables and yoke legs together do to one cam, seen in the riser's axes.
struct CamLoad {
    Vec3 force = Vec3::Zero();   ///< on the cam [N]; the bearings answer with the opposite
    Vec3 moment = Vec3::Zero();  ///< about the middle of the hub [N mm]
};
[[nodiscard]] CamLoad cam_load(const AssembledBow& bow, End end, const solver::State& state);

/// Force of a limb tip on the axle along it, positive to the left [N]: what the spacers between tip and cam
/// see.
[[nodiscard]] double tip_side_force(const AssembledBow& bow, End end, Flank flank,
                                    const solver::State& state);

/// Largest outer-fibre strain of a limb row along it [1]: of beams |Γ₁| + |κ₂| t/2 + |κ₃| w/2 at their
/// sections, of shells |ε₁₁| + |κ₁₁| t/2 at their centres.
[[nodiscard]] double largest_strain(const AssembledBow& bow, const LimbRow& row, const solver::State& state);

/// Largest bending stress of an axle: 32 M/(π d³), M the moment across it, at the ends of its beams [MPa].
[[nodiscard]] double axle_stress(const AssembledBow& bow, End end, const solver::State& state);

/// Force of the cables on the guide in the riser's axes [N]; zero without a guide.
[[nodiscard]] Vec3 guide_force(const AssembledBow& bow, const solver::State& state);

/// Smallest distance between any cable and the line of the arrow, from the nocking point through the rest and
/// as far again, less the vanes' radius and the cable's [mm]. The string is not a cable.
[[nodiscard]] double arrow_clearance(const AssembledBow& bow, const solver::State& state);

/// Torque that the hand holds against roll about the arrow's line, on the grip, positive from Y to Z [N mm].
[[nodiscard]] double roll_reaction(const AssembledBow& bow, const solver::State& state);

}  // namespace limbwright::models
