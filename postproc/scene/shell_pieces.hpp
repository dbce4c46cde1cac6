#pragma once

#include <functional>
#include <string>
#include <vector>

#include "postproc/scene/scene.hpp"
#include "solver/elements/laminate.hpp"
#include "solver/elements/shell.hpp"
#include "solver/system/system.hpp"

/// Parts that are surfaces of shells, as they are shown, with what they carry. `thickened` makes such a
/// surface the closed wall that a picture from the side needs.
namespace limbwright::postproc {

struct ShellPart {
    std::string name;
    std::vector<std::size_t> elements{};                              ///< of the system, every one a `Shell`
    std::function<solver::Laminate(std::size_t element)> laminate{};  ///< of one of them
};

/// The unloaded part, from which displacements are told.
struct ShellRest {
    const solver::State& state;
    solver::Pose carried{};  ///< rigid motion that does not count as displacement
};

/// A part in one state: its reference surface in the world, each element a cell, quads before triangles in
/// the part's own order, counter-clockwise for who sees the wall's top face. Corners on equal frames are one
/// point. On the points:
///
/// - displacement [mm]: from where the point would stand unloaded; world axes
///
/// On the cells, all at the element's centre and, but for the wall axis, in the wall's axes or the fibres':
///
/// - thickness [mm]
/// - membrane force [N/mm]: N₁₁, N₂₂, N₁₂; moment [N]: M₁₁, M₂₂, M₁₂; shear force [N/mm]: Q₁, Q₂, 0; signs as
///   in `solver::WallStiffness`
/// - wall axis 1: in the world
/// - strain, outer [%]: the larger |ε₁₁| of the two outer faces
/// - stress, ply k [MPa]: σ₁₁, σ₂₂, τ₁₂ along and across the fibres of the k-th ply from the bottom, at that
///   of its two faces where |σ₁₁| is larger
/// - strain, ply k [%]: ε₁₁, ε₂₂, γ₁₂ at the same place
///
/// @throws std::invalid_argument if an element is no shell, or the elements differ in their number of plies
[[nodiscard]] Piece shell_piece(const solver::System& system, const ShellPart& part,
                                const solver::State& state);
/// The same with displacement.
[[nodiscard]] Piece shell_piece(const solver::System& system, const ShellPart& part,
                                const solver::State& state, const ShellRest& rest);

}  // namespace limbwright::postproc
