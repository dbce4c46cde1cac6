#pragma once

#include "models/parts/cable_systems.hpp"

namespace limbwright::models {

/// A bow as a system at rest, with handles to its named parts. All parts are stress-free; string and cables
/// carry their natural lengths only after stringing.
struct AssembledBow {
    Bow bow;
    Layout layout;  ///< with which it was assembled; `bow.layout` may differ
    RiserParts riser;
    std::array<AxleParts, 2> axles;  ///< top, bottom
    std::array<LimbParts, 2> limbs;
    GuideParts guide;
    std::array<solver::ScalarId, 3> nock;  ///< X, Y, Z of the nocking point in the world [mm]
    solver::Frame nock_frame;
    std::array<CablePart, 2> string;            ///< above and below the nocking point
    std::vector<CablePart> cables;              ///< cables and yoke legs
    std::array<std::size_t, 2> hand_torques{};  ///< elements: yaw, pitch
    solver::System system;
    solver::State rest;

    [[nodiscard]] const solver::Cable& cable(const CablePart& part) const { return cable(system, part); }
    [[nodiscard]] static const solver::Cable& cable(const solver::System& system, const CablePart& part);
    [[nodiscard]] const AxleParts& axle(End end) const { return axles[index(end)]; }
    /// Every string half, cable and leg, in one list: string above, string below, then cables and legs.
    [[nodiscard]] std::vector<CablePart> all_cables() const;
    /// Name of the part to which a freedom belongs, for messages: "top left limb, section 3".
    [[nodiscard]] std::string part_of_freedom(int freedom) const;
};

/// @throws std::invalid_argument if a groove's points make no convex groove
[[nodiscard]] AssembledBow assemble(const Bow& bow, const Layout& layout);
[[nodiscard]] inline AssembledBow assemble(const Bow& bow) {
    return assemble(bow, bow.layout);
}

/// The draw stop of an axle that has one.
[[nodiscard]] const solver::Spring& stop_of(const AssembledBow& bow, const AxleParts& axle);

/// Turn of a cam in the riser's frame from its drawn pose, positive in the sense of the draw: direction of
/// its axis u in the riser's XZ plane, whole turns counted [rad].
[[nodiscard]] double cam_turn(const AssembledBow& bow, End end, const solver::State& state);

/// Roll of an axle's middle in the riser's frame, counter-clockwise seen from the archer's right [rad].
[[nodiscard]] double axle_roll(const AssembledBow& bow, End end, const solver::State& state);

/// Pose of the bow's own frame, the riser's cross-section at the grip, in the world.
[[nodiscard]] solver::Pose bow_frame(const AssembledBow& bow, const solver::State& state);

/// Distance between the axles' middles [mm].
[[nodiscard]] double axle_to_axle(const AssembledBow& bow, const solver::State& state);

/// The nocking point in the bow's own frame [mm].
[[nodiscard]] Vec3 nocking_point(const AssembledBow& bow, const solver::State& state);

}  // namespace limbwright::models
