#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>

#include "models/states/bow_modes.hpp"
#include "models/states/draw.hpp"
#include "postproc/output/table.hpp"

/// Free motions of a bow for people: tables, sentences, JSON.
namespace limbwright::postproc {

/// A state with its lowest modes, at least one.
struct MotionsAt {
    const char* name = "";  ///< "brace" or "full draw"
    models::DrawState state;
    models::BowModes modes;
};

/// "sideways" or "in plane" where four fifths of the kinetic energy are, else "both".
[[nodiscard]] const char* direction(const models::BowMode& mode);

/// One row a mode: frequency, direction, and the part that moves most.
[[nodiscard]] Table modes_table(const MotionsAt& motions);
/// Mass of every part and of all together.
[[nodiscard]] Table masses_table(const models::BowModes& modes);
/// Whether the state is stable, and how far from the limit.
[[nodiscard]] std::string stability_text(const MotionsAt& motions);
/// What the bow file does not give, and what is left out.
[[nodiscard]] std::string assumptions_text(const models::BowModes& modes);
/// Everything; `shares` of a mode are in the order of `parts`.
[[nodiscard]] nlohmann::ordered_json to_json(std::span<const MotionsAt> states, const std::string& bow);

}  // namespace limbwright::postproc
