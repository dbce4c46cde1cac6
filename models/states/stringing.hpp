#pragma once

#include <variant>

#include "models/states/natural_lengths.hpp"
#include "solver/system/equilibrium.hpp"

namespace limbwright::models {

/// A strung bow at brace: nothing pulls at the nocking point, the hand holds the grip with its torques only.
struct StrungBow {
    AssembledBow bow;  ///< its system carries the natural lengths and the draw stops' places
    solver::Equilibrium brace;
    NaturalLengths lengths;
};

/// Why a bow could not be strung, in a sentence with figures that says what to try.
struct NotStrung {
    std::string reason;
};
using Stringing = std::variant<StrungBow, NotStrung>;

/// Strings a bow: from its natural lengths where it gives them, else from what was measured at brace.
///
/// 1. The riser and the cams at their marks are held, yoke legs are without their twists, the hand does not
///    turn the grip; string and cables pull with dead tensions (energy T ℓ) in the ratio that balances each
///    cam, raised together until axle-to-axle is met.
/// 2. The tensions are frozen into natural lengths, everything is let go, the bow turned so that the line
///    from nocking point to pivot is the X axis.
/// 3. The legs' twists and the hand's torques are put on in steps that adapt, while the lengths are led to
///    those that the bow gives. A yoke leg may go slack: the yoke then hangs on the other one, and a draw
///    warns of it.
/// 4. Where the bow gives none, the lengths are corrected by Newton's method, with the state's derivatives by
///    each length from the factor in hand, until axle-to-axle, nocking-point height and marks (or brace
///    height) are met to 1e-7 mm.
[[nodiscard]] Stringing string_up(const AssembledBow& bow);

/// Strings a bow with lengths known from elsewhere, for instance from the same bow in another layout.
[[nodiscard]] Stringing string_up(const AssembledBow& bow, const NaturalLengths& lengths);

/// Freedoms held at brace: roll, and the nocking point across the X axis.
[[nodiscard]] std::vector<int> held_at_brace(const AssembledBow& bow);
/// Freedoms held while drawing: the same, and the nocking point along X.
[[nodiscard]] std::vector<int> held_while_drawing(const AssembledBow& bow);

}  // namespace limbwright::models
