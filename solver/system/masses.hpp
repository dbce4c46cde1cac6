#pragma once

#include <array>
#include <functional>
#include <span>

#include "solver/elements/shell.hpp"

namespace limbwright::solver {

/// A rigid lump of mass; the frame's origin is its centre of mass. Masses never enter an equilibrium, only
/// what is asked of small motions about it.
struct Body {
    Frame frame;
    double mass = 0;              ///< [t]
    Mat3 inertia = Mat3::Zero();  ///< about the centre of mass, in the frame's own axes [t mm²]
};

[[nodiscard]] double total_mass(std::span<const Body> bodies);

/// What the body touches, each once; fixes the order of `mass_matrix`.
[[nodiscard]] std::vector<Touch> touches_of(const Body& body);

/// Jᵀ diag(m, m, m, Θ) J, J taking the increments of what the body touches to its motion (δx world, δθ own
/// axes): twice the kinetic energy of unit rates.
[[nodiscard]] ElementMatrix mass_matrix(const Body& body, const State& state);

/// Motion of the body (δx world, δθ own axes) under a step of all freedoms, to first order.
[[nodiscard]] Vec6 motion_of(const Body& body, const State& state, const VecX& step,
                             const Numbering& numbering);

/// Mass of a cross-section per length of its part.
struct SectionMass {
    double mass = 0;              ///< ρ A [t/mm]
    Vec3 inertia = Vec3::Zero();  ///< ρ (I₂ + I₃, I₂, I₃), axes as in `SectionStiffness` [t mm]
};
/// @param density  [t/mm³]
[[nodiscard]] SectionMass rectangle_mass(double density, double width, double thickness);
[[nodiscard]] SectionMass circle_mass(double density, double diameter);

/// A segment's mass lumped at its two ends, each point's share falling linearly with its distance from the
/// end: total mass and centre of mass are kept; frequencies converge with the square of the segments' length.
///
/// @param length   of the segment [mm]
/// @param section  at a share 0 … 1 of the segment; three Gauss points integrate it (exact where width and
///                 thickness are linear)
[[nodiscard]] std::array<Body, 2> segment_masses(const Frame& end1, const Frame& end2, double length,
                                                 const std::function<SectionMass(double)>& section);

/// A shell's mass lumped at its corners, an equal share each, with the rotary inertia of its thickness about
/// the axes in it: m t²/12. About the normal there is none.
///
/// @param density  [t/mm³]
/// @param rest     state in which the shell carries nothing
[[nodiscard]] std::vector<Body> shell_masses(const Shell& shell, double density, double thickness,
                                             const State& rest);

}  // namespace limbwright::solver
