#pragma once

#include <span>

#include "meshes/strip.hpp"
#include "models/bow/bow.hpp"

/// What limbs and riser are made of, as beams' sections and as shells' walls.
namespace limbwright::models {

/// The lamina that a part's material is in a wall. What the bow file does not give: a material whose moduli
/// fit an isotropic one (E/2G − 1 within 0 … 0.5) is isotropic; else it is a unidirectional laminate with E₂
/// = 2.5 G₁₂ and ν₁₂ = 0.27, about those of glass and carbon in epoxy (common values of handbooks, from
/// memory). Through the thickness G₁₃ = G₁₂, G₂₃ = E₂/2.8.
[[nodiscard]] solver::Lamina lamina_of(const Material& material);

/// Stiffness of one limb with its deflection number in it.
struct LimbStiffness {
    solver::Moduli moduli;  ///< of a plain limb; of a laminated one, those of a rectangle as stiff at the
                            ///< root flatwise and in torsion
    solver::Lamina lamina;  ///< of a plain limb
    std::vector<LimbPly> plies;  ///< of a laminated one, with their own stiffness
    double scale = 1;            ///< of the plies' stiffness

    [[nodiscard]] solver::SectionStiffness section(double width, double thickness) const;
    /// The same at some distances from ends that cannot warp [mm]. Twisting a limb makes its cross-sections
    /// warp; an end that does not let them stiffens it nearby. At a distance s from such an end the twist per
    /// torque is (1 − μ exp(−s/λ))/(G J), μ = 1 − J/I_p, λ² = E C_w/(μ G J) (Benscoter, A theory of torsion
    /// bending for multicell beams, J. Appl. Mech. 21 (1954)), as if the bar were shorter by μ λ; here
    /// E C_w = E I₂ b²/12 · C_w/(b³t³/144), which is E C_w of a rectangle.
    [[nodiscard]] solver::SectionStiffness section_near(std::span<const double> held_ends, double width,
                                                        double thickness) const;
    /// G I_p: torque per twist of a section that is kept from warping at all [N mm²].
    [[nodiscard]] double polar_stiffness(double width, double thickness) const;
    /// From the face toward the target to the face toward the archer.
    [[nodiscard]] solver::Laminate laminate(double thickness) const;
};

/// Stiffness of a limb with a given deflection number: in proportion to the number; with a measured spring
/// rate, as large as the rate asks at the reference number.
[[nodiscard]] LimbStiffness limb_stiffness(const Limb& limb, double number);
[[nodiscard]] inline solver::Moduli limb_moduli(const Limb& limb, double number) {
    return limb_stiffness(limb, number).moduli;
}

/// Shape of a limb as a strip whose axis 3 points toward the archer (top limb's axes).
[[nodiscard]] meshes::Strip limb_strip(const Limb& limb);

/// Wall of a riser of a given thickness, its fill in it.
[[nodiscard]] solver::Laminate riser_laminate(const Riser& riser, double thickness);

}  // namespace limbwright::models
