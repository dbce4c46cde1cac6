#pragma once

#include <array>
#include <vector>

#include "solver/pose.hpp"

/// CalculiX (program `ccx`, Debian package calculix-ccx), a general-purpose finite-element program, as a
/// reference.
namespace limbwright::testing {

using solver::Mat3;
using solver::Pose;
using solver::Vec3;

/// Corners of a brick's bottom, then of its top, each way round; midsides of the bottom, of the top, of the
/// uprights.
using Brick = std::array<int, 20>;

/// An isotropic solid, held at some nodes, others moving as one rigid body that a dead force pulls.
struct Solid {
    std::vector<Vec3> nodes;  ///< at rest [mm]
    std::vector<Brick> bricks;
    double young = 0, poisson = 0;  ///< [MPa], [1]
    std::vector<int> held, rigid;   ///< nodes
    Vec3 pulled_at = Vec3::Zero();  ///< a point of the rigid body, at rest [mm]
    Vec3 force = Vec3::Zero();      ///< [N]
};

/// Displacement of every node [mm], by quadratic bricks of reduced integration and in large displacements.
/// Throws std::runtime_error if the program is missing or finds no answer.
[[nodiscard]] std::vector<Vec3> displacements_by_calculix(const Solid& solid);

/// Where a section stands after the motion of its nodes: the rigid motion that leaves the least squares of
/// them (W. Kabsch, Acta Cryst. A32 (1976) 922).
[[nodiscard]] Pose moved_section(const Solid& solid, const std::vector<Vec3>& displacements,
                                 const std::vector<int>& nodes, const Pose& rest);

}  // namespace limbwright::testing
