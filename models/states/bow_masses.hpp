#pragma once

#include "models/parts/assembled_bow.hpp"
#include "solver/system/masses.hpp"

namespace limbwright::models {

/// What is taken where the bow file gives no density or mass; usual values, from memory.
namespace assumed {
inline constexpr double riser_density = 2700e-12;  ///< aluminium [t/mm³]
inline constexpr double limb_density = 1900e-12;   ///< glass laminate
inline constexpr double axle_density = 7850e-12;   ///< steel
inline constexpr double rod_density = 1600e-12;    ///< carbon laminate, of a guide rod that bends
inline constexpr double cam_mass = 120e-6;         ///< [t]
inline constexpr double idler_mass = 40e-6;        ///< [t]
inline constexpr double line_mass = 4e-9;          ///< of string and cables [t/mm]
}  // namespace assumed

/// A part of the bow as lumps of mass.
struct PartMass {
    std::string name;
    std::vector<solver::Body> bodies;
};

struct BowMasses {
    std::vector<PartMass> parts;  ///< "riser", "guide rod" if it bends, "top limbs", "bottom limbs", "top
                                  ///< cam", "bottom cam" (each with its axle), "string", "cables"
    std::vector<std::string> assumed;  ///< what the bow file does not give, with the value taken, in words

    [[nodiscard]] std::vector<solver::Body> bodies() const;  ///< of all parts, in their order
};

/// The masses of a strung bow in one state.
///
/// Riser, limbs, axles and a bending guide rod by density and dimensions, lumped at their sections. A cam is
/// a plate of even thickness, the hub's width, with its string track's outline. String and cables have no
/// freedoms of their own: each run between two contacts gives half of its mass to either. Not counted:
/// spacers, a stiff guide rod, the slide, and whatever is screwed to the bow.
[[nodiscard]] BowMasses bow_masses(const AssembledBow& bow, const solver::State& state);

}  // namespace limbwright::models
