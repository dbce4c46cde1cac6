#pragma once

#include <array>
#include <vector>

#include "solver/elements/plate_stiffness.hpp"
#include "solver/elements/section.hpp"

namespace limbwright::solver {

/// Elastic constants of a unidirectional layer; axis 1 along the fibres, 2 across them in the layer, 3
/// through it.
struct Lamina {
    double along = 0, across = 0;       ///< Young's moduli E₁, E₂ [MPa]
    double poisson = 0;                 ///< ν₁₂: contraction across per strain along
    double shear = 0;                   ///< G₁₂ [MPa]
    double shear_13 = 0, shear_23 = 0;  ///< G₁₃, G₂₃ through the thickness [MPa]
};

/// The lamina that has one modulus and one shear modulus in every direction; ν = E/(2G) − 1.
/// @throws std::invalid_argument for a modulus that is not positive or ν outside (−1, 0.5)
[[nodiscard]] Lamina isotropic(const Moduli& moduli);

struct Ply {
    Lamina lamina;
    double angle = 0;      ///< of the fibres from the wall's axis 1 toward axis 2 [rad]
    double thickness = 0;  ///< [mm]
};
/// Plies from the bottom face up along axis 3; the reference surface is the middle of the whole.
using Laminate = std::vector<Ply>;

/// Σ of the plies' thicknesses [mm].
[[nodiscard]] double thickness(const Laminate& laminate);

/// A, B, D of classical lamination theory and the transverse shear stiffness H:
///
///     (A, B, D) = ∫ Q̄ (1, z, z²) dz,   Q̄ = Tᵀ Q T,
///
/// with Q the plane-stress stiffness of the ply in its fibre axes and T what turns the wall's strain into
/// them (Jones, Mechanics of Composite Materials, chapters 2 and 4).
///
/// H: the shear flow through the thickness balances the stresses of a bending moment that grows along the
/// wall, at constant membrane force,
///
///     τ(z) = F(z) M′,   F(z) = ∫_{−h/2}^{z} Q̄ (A⁻¹B − ζ) dζ (D − B A⁻¹ B)⁻¹,
///
/// for M₁₁ growing along axis 1 (M₁₁′ = Q₁) and M₂₂ along axis 2 (M₂₂′ = Q₂), the others constant:
///
///     τ₁₃ = F₁₁ Q₁ + F₆₂ Q₂,   τ₂₃ = F₆₁ Q₁ + F₂₂ Q₂.
///
/// H⁻¹ is the matrix of the energy ∫ τᵀ G⁻¹ τ dz (Rohwer, DFVLR-FB 88-32, 1988; Rolfes & Rohwer, Int. J.
/// Numer. Methods Eng. 40 (1997) 51–60). A homogeneous wall has 5/6 G h.
///
/// @throws std::invalid_argument for no ply, a thickness or modulus that is not positive, an angle that is
///         no number, or a lamina that would give energy away: E₁ ≤ ν₁₂² E₂
[[nodiscard]] WallStiffness wall_stiffness(const Laminate& laminate);

/// Stiffness of a beam whose cross-section is a laminated rectangle: axis 1 along the beam is the laminate's
/// axis 1, axis 2 across the width its axis 2. For an isotropic laminate it is `rectangle`.
///
/// A point at (y, z) has ε₁₁ = Γ₁ + z κ₂ − y κ₃ and, once a wide section has warped, 2ε₁₂ = Γ₂ − 2z κ₁.
/// Hence κ₂ is the wall's κ₁₁, κ₁ is −½ of its 2κ₁₂ and, both halves of the torque counted, M₁ = −2b M₁₂.
///
/// The edges are free, N₂₂ = M₂₂ = 0, and N₁₂ = (3V₂/2b)(1 − 4y²/b²) comes from V₂ alone. With S the rows and
/// columns (N₁₁, N₁₂, M₁₁, M₁₂) of the inverse of (A, B; B, D), the compliance by (N, V₂, M₂, −M₁/2) is S/b
/// with all its couplings: EI₂ = b/d₁₁ and GJ = 4b/d₆₆ of a narrow beam (Whitney, Structural Analysis of
/// Laminated Anisotropic Plates, 1987, chapter on beams).
///
/// What the parabola and the edges change, with P the inverse of S without N₁₂ and H₁ = 1/(H⁻¹)₁₁ (no Q₂),
/// follows from the energy of a Reissner–Mindlin strip, whose M₁₂ dies out toward the edges as
/// exp(−λ distance), λ² = H₁/P₆₆:
///
/// - V₂: its own compliance is 6/5 of S₆₆/b (S₆₆ that of N₁₂).
/// - V₃: its stiffness is b H₁.
/// - M₁: 4b P₆₆ (P₆₆ that of M₁₂), the stiffness of twist alone, is multiplied by Saint-Venant's factor
///   J(b′, h)/(b′h³/3) with b′ = λhb/√10. In a homogeneous wall b′ = b √(G₁₃/G₁₂), which is exact
///   (Lekhnitskii, Theory of Elasticity of an Anisotropic Body, chapter on torsion); of a wide strip's edges
///   the energy says the same to 0.4 %.
/// - M₃: EI₃ = b³/12 (P₁₁ − 3 (P₁₆²/P₆₆)(coth x − 1/x)/x), x = λb/2: the edges are free of the M₁₂ that
///   stretching brings. A laminate that does not couple stretch with twist has b³/(12 a₁₁).
///
/// Symmetric and positive definite.
/// @throws std::invalid_argument as `wall_stiffness`, or for a width that is not positive
[[nodiscard]] SectionStiffness laminate_section(const Laminate& laminate, double width);

/// Strain and stress [MPa] (11, 22, 12; strain 12 engineering) of one ply in its own fibre axes, at its lower
/// and its upper face.
struct PlyState {
    std::array<Vec3, 2> strain, stress;
};
/// One for each ply, bottom up: strain T (ε + z κ), stress Q times it.
/// @param strain, curvature  of the wall: (ε₁₁, ε₂₂, 2ε₁₂), (κ₁₁, κ₂₂, 2κ₁₂) [1/mm]
/// @throws std::invalid_argument as `wall_stiffness`
[[nodiscard]] std::vector<PlyState> ply_states(const Laminate& laminate, const Vec3& strain,
                                               const Vec3& curvature);

}  // namespace limbwright::solver
