#pragma once

#include <array>
#include <vector>

#include "solver/section.hpp"
#include "solver/wall.hpp"

namespace limbwright::solver {

/// Elastic constants of a unidirectional layer; axis 1 along the fibres, 2 across them in the layer, 3 through it.
struct Lamina {
    double along = 0, across = 0;  ///< Young's moduli E₁, E₂ [MPa]
    double poisson = 0;            ///< ν₁₂: contraction across per strain along
    double shear = 0;              ///< G₁₂ [MPa]
    double shear_13 = 0, shear_23 = 0;  ///< through the thickness [MPa]
};

/// The lamina that has one modulus and one shear modulus in every direction; ν = E/(2G) − 1.
[[nodiscard]] Lamina isotropic(const Moduli& moduli);

struct Ply {
    Lamina lamina;
    double angle = 0;      ///< of the fibres from the wall's axis 1 toward axis 2 [rad]
    double thickness = 0;  ///< [mm]
};
/// Plies from the bottom face up along axis 3; the reference surface is the middle of the whole.
using Laminate = std::vector<Ply>;

[[nodiscard]] double thickness(const Laminate& laminate);

/// A, B, D of classical lamination theory and the transverse shear stiffness.
[[nodiscard]] WallStiffness wall_stiffness(const Laminate& laminate);

/// Stiffness of a beam whose cross-section is a laminated rectangle: axis 1 along the beam is the laminate's axis 1, axis
/// 2 across the width its axis 2.
[[nodiscard]] SectionStiffness laminate_section(const Laminate& laminate, double width);

/// Strain and stress (11, 22, 12; 12 engineering) of one ply in its own fibre axes, at its lower and its upper
/// face.
struct PlyState {
    std::array<Vec3, 2> strain, stress;
};
/// @param strain, curvature  of the wall: (ε₁₁, ε₂₂, 2ε₁₂), (κ₁₁, κ₂₂, 2κ₁₂)
[[nodiscard]] std::vector<PlyState> ply_states(const Laminate& laminate, const Vec3& strain, const Vec3& curvature);

}  // namespace limbwright::solver
