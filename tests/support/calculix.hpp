#pragma once

#include <array>
#include <vector>

#include "solver/elements/laminate.hpp"
#include "solver/numbers/pose.hpp"

/// CalculiX (program `ccx`, Debian package calculix-ccx), a general-purpose finite-element program, as a
/// reference.
namespace limbwright::testing {

using solver::Mat3;
using solver::Pose;
using solver::Vec3;

/// Corners of a brick's bottom, then of its top, each way round; midsides of the bottom, of the top, of the
/// uprights.
using Brick = std::array<int, 20>;

/// A solid held at some nodes, others moving as one rigid body under a dead force and a moment.
struct Solid {
    std::vector<Vec3> nodes;  ///< at rest [mm]
    std::vector<Brick> bricks;
    std::vector<Mat3> axes;  ///< of each brick's material, columns; 1 along the fibres
    solver::Lamina material;  ///< alike in all directions across the fibres: E₃ = E₂, G₁₃ = G₁₂, ν₁₃ = ν₁₂,
                              ///< ν₂₃ = E₂/(2 G₂₃) − 1
    std::vector<int> held, rigid;   ///< nodes
    Vec3 pulled_at = Vec3::Zero();  ///< a point of the rigid body, at rest [mm]
    Vec3 force = Vec3::Zero();      ///< [N]
    Vec3 moment = Vec3::Zero();     ///< small: the body hardly turns under it [N mm]
};

/// Displacement of every node [mm], by quadratic bricks of reduced integration and in large displacements.
/// Throws std::runtime_error if the program is missing or finds no answer.
[[nodiscard]] std::vector<Vec3> displacements_by_calculix(const Solid& solid);

/// Where a section stands after the motion of its nodes: the rigid motion that leaves the least squares of
/// them (W. Kabsch, Acta Cryst. A32 (1976) 922).
[[nodiscard]] Pose moved_section(const Solid& solid, const std::vector<Vec3>& displacements,
                                 const std::vector<int>& nodes, const Pose& rest);

}  // namespace limbwright::testing
