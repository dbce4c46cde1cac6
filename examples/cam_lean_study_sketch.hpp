#pragma once

#include <string>

/// The free body of a cam with its axle, drawn.
namespace cam_lean_study {

/// Left: seen from behind. Right: a bent limb seen from the archer's left, with the lever arm of a side
/// force.
[[nodiscard]] std::string free_body_sketch();

}  // namespace cam_lean_study
