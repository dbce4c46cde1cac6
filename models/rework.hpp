#pragma once

#include <string>

#include "models/bow.hpp"

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
    int parts = 0;  ///< limbs and spacers that go to another place, come in or go out, and settings that change
    auto operator<=>(const Rework&) const = default;
};

/// From one layout to another. Limbs are told apart by their numbers only: a limb moves where a pocket's number changes.
[[nodiscard]] Rework rework(const Layout& from, const Layout& to);

/// "guide", "spacers, 4 parts".
[[nodiscard]] std::string to_text(const Rework& rework);

}  // namespace limbwright::models
