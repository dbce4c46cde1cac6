#pragma once

#include "solver/numbers/algebra.hpp"

namespace limbwright::solver {

/// Stiffness of a cross-section: C with (N, V₂, V₃, M₁, M₂, M₃) = C (Γ − Γ₀, κ − κ₀), 6×6 [N, N mm, N mm²].
/// Axis 1 runs along the beam, 2 across its width, 3 across its thickness; κ₂ bends flatwise.
using SectionStiffness = Mat6;

/// Young's and shear modulus along the beam [MPa].
struct Moduli {
    double young = 0, shear = 0;
};

/// Saint-Venant torsion constant of a solid rectangle [mm⁴]:
///     J = b t³/3 (1 − 192 t/(π⁵ b) Σ_{n odd} tanh(n π b / 2t)/n⁵),  t ≤ b
/// (Timoshenko & Goodier, Theory of Elasticity, chapter on torsion).
[[nodiscard]] double torsion_constant(double width, double thickness);

/// Warping constant of a solid rectangle, ∫ψ² dA [mm⁶], from the warping function ψ of the same solution:
///     ψ = −yz + Σ_{n odd} 4 a_n/k sinh(k y)/cosh(k b/2) sin(k z),  k = n π/t,  a_n = (−1)^((n−1)/2) 2 t/(π²
///     n²)
/// near b³t³/144 for a narrow one, 1.34e-4 b⁶ for a square.
[[nodiscard]] double warping_constant(double width, double thickness);

/// Solid rectangle; shear coefficient 5/6 both ways (exact for ν = 0).
[[nodiscard]] SectionStiffness rectangle(const Moduli& moduli, double width, double thickness);

/// Solid circle; shear coefficient 6/7 (Cowper, J. Appl. Mech. 33 (1966), ν = 0).
[[nodiscard]] SectionStiffness circle(const Moduli& moduli, double diameter);

/// From six stiffnesses without coupling.
[[nodiscard]] SectionStiffness diagonal_section(double EA, double GA2, double GA3, double GJ, double EI2,
                                                double EI3);

}  // namespace limbwright::solver
