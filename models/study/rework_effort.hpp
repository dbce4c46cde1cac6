#pragma once

#include <compare>
#include <string>

#include "models/bow/bow.hpp"

namespace limbwright::models {

/// What kind of work a layout needs from today's bow; each kind includes those before it.
enum class ReworkKind {
    none,
    keys,     ///< guide, limb bolts: a key, no press
    twists,   ///< string, cables, yoke legs: a press, no axle pulled
    spacers,  ///< a press, axles pulled
    limbs     ///< a press, limbs out of their pockets
};

struct Rework {
    ReworkKind kind = ReworkKind::none;
    int parts =
        0;  ///< limbs and spacers that go to another place, come in or go out, and settings that change
    auto operator<=>(const Rework&) const = default;
};

/// From one layout to another. Limbs are told apart by their numbers only, spacers by their thickness: of one
/// number or thickness, max(places that gain one, places that lose one) go somewhere else, come in or go out.
/// The hand's torques are the archer's and no rework.
///
/// @param kind  solid: the limb of left and right pocket is one part
[[nodiscard]] Rework rework(const Layout& from, const Layout& to, LimbKind kind = LimbKind::split);

/// "none", "keys, 1 part", "spacers, 4 parts".
[[nodiscard]] std::string to_text(const Rework& rework);

}  // namespace limbwright::models
