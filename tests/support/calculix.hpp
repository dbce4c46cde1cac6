#pragma once

#include <array>
#include <vector>

#include "solver/pose.hpp"

/// CalculiX (program `ccx`, Debian package calculix-ccx), a general-purpose finite-element program, as a reference.
namespace limbwright::testing {

using solver::Mat3;
using solver::Pose;
using solver::Vec3;

/// An elastic solid, held at some nodes, others moving as one rigid body that a dead force pulls. N, mm, MPa.
struct Solid {
    std::vector<Vec3> nodes;                     ///< at rest
    std::vector<std::array<int, 20>> bricks;     ///< 8 corners, then the midsides of the bottom, the top, the uprights
    double young = 0, poisson = 0;
    std::vector<int> held, rigid;                ///< nodes
    Vec3 pulled_at = Vec3::Zero();               ///< a point of the rigid body, at rest
    Vec3 force = Vec3::Zero();
};

/// Displacement of every node, by CalculiX with 20-node bricks of reduced integration and large displacements
/// [mm]. Throws std::runtime_error where the program is missing or finds no answer.
[[nodiscard]] std::vector<Vec3> displacements_by_calculix(const Solid& solid);

/// The rigid motion of some nodes that leaves the least squares, about the point `centre` at rest.
///
/// @return rotation, and the position of the centre after the motion; the root of the mean square left [mm]
struct RigidFit {
    Pose pose;
    double rest = 0;
};
[[nodiscard]] RigidFit fitted(const std::vector<Vec3>& nodes, const std::vector<Vec3>& displacements,
                              const std::vector<int>& which, const Vec3& centre);

}  // namespace limbwright::testing
