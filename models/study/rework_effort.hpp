#pragma once

#include <compare>
#include <string>
#include <utility>

#include "models/bow/settings.hpp"

namespace limbwright::models {

/// What it takes to bring a bow from one layout to another. Two are alike, and ordered, by tools and parts.
struct Rework {
    Work work = Work::none;  ///< the heaviest; that of less is done along
    int parts =
        0;  ///< limbs and spacers that go to another place, come in or go out, and settings that change
    [[nodiscard]] int tools() const { return tools_for(work); }
    [[nodiscard]] std::pair<int, int> effort() const { return {tools(), parts}; }
    bool operator==(const Rework& other) const { return effort() == other.effort(); }
    auto operator<=>(const Rework& other) const { return effort() <=> other.effort(); }
};

/// From one layout to another. Limbs are told apart by their numbers only, spacers by their thickness: of one
/// number or thickness, max(places that gain one, places that lose one) go somewhere else, come in or go out.
/// The hand's torques are the archer's and no rework.
/// @param settings  of the bow
[[nodiscard]] Rework rework(const std::vector<Setting>& settings, const Layout& from, const Layout& to);

/// "none", "keys, 1 part", "spacers, 4 parts".
[[nodiscard]] std::string to_text(const Rework& rework);

}  // namespace limbwright::models
