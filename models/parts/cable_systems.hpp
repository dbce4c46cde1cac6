#pragma once

#include <functional>
#include <span>
#include <string_view>

#include "models/parts/cable_parts.hpp"

namespace limbwright::models {

/// One way of stringing a bow.
struct CableSystemEntry {
    CableSystem system;
    std::string_view name;  ///< in the bow file
    std::string_view text;  ///< one line for help
    /// Adds cables and yoke legs, in the order of `Cables::cables`; a yoked cable is followed by its two
    /// legs.
    std::vector<CablePart> (*add_cables)(const Rigging&);
};

/// All known systems.
[[nodiscard]] std::span<const CableSystemEntry> cable_systems();
[[nodiscard]] const CableSystemEntry& entry_of(CableSystem system);

/// Adds both halves of the string: above the nocking point, then below.
[[nodiscard]] std::array<CablePart, 2> add_string(const Rigging& rig);

}  // namespace limbwright::models
