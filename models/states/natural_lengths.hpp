#pragma once

#include <array>

#include "models/input/enum_names.hpp"
#include "models/states/form_finding.hpp"
#include "solver/system/block_matrix.hpp"

/// What a bow gets when it is strung, beyond what assembling gives it: the natural lengths of string and
/// cables, and the places of its draw stops.
namespace limbwright::models {

/// What happens to string and cables when the bow is rebuilt.
enum class LengthRule {
    kept,     ///< natural lengths stay as they are on today's bow; twists change them
    re_timed  ///< lengths are set anew until the bow's measurements at brace are met again
};

inline constexpr std::array length_rule_names{
    Choice<LengthRule>{"kept", LengthRule::kept},
    Choice<LengthRule>{"re-timed", LengthRule::re_timed},
};

/// Natural lengths of string and cables without the layout's twists [mm]; yoke legs have theirs in `Cables`.
struct NaturalLengths {
    double string_above = 0, string_below = 0;
    std::vector<double> cables;
};

/// String halves and cables, whose lengths stringing decides: string above, string below, then the cables.
[[nodiscard]] std::vector<CablePart> cut_parts(const AssembledBow& bow);

/// Natural lengths less what the layout's twists take away, in the order of `cut_parts` [mm].
[[nodiscard]] solver::VecX twisted(const AssembledBow& bow, const NaturalLengths& lengths);
/// The way back.
[[nodiscard]] NaturalLengths untwisted(const AssembledBow& bow, const solver::VecX& lengths);

/// The bow's system with string and cables of such lengths, twists counted, in the order of `cut_parts` [mm].
[[nodiscard]] solver::System with_lengths(const AssembledBow& bow, const solver::VecX& lengths);

/// What each of `cut_parts` does to the freedoms when its natural length grows, per millimetre: a column
/// −∂²U/∂q∂L₀ = EA ℓ/L₀² ∂ℓ/∂q for each, for taut parts.
[[nodiscard]] solver::MatX loads_of_lengths(const AssembledBow& bow, const solver::System& system,
                                            const solver::State& state);

/// The system with the draw stop of an axle acting otherwise; without stiffness it does not act.
[[nodiscard]] solver::System with_stop(const solver::System& system, const AxleParts& axle,
                                       const solver::Spring::Data& data);

/// Puts every draw stop where it meets: at the cam's given turn from a state at brace.
void place_stops(AssembledBow& bow, const solver::State& brace);

/// What must be met at brace, as differences that shall be zero [mm, rad]: axle-to-axle, nocking-point
/// height, both cams turned alike from their marks, and the brace height or, where none is given, the bottom
/// cam's mark. As many as `cut_parts`.
[[nodiscard]] solver::VecX unmet_at_brace(const AssembledBow& bow, const solver::State& state);

/// How brace answers natural lengths L, a column for each of `cut_parts`: of its state q and of what is
/// unmet, u.
struct BraceByLengths {
    solver::MatX state;  ///< dq/dL = −K⁻¹ ∂g/∂L
    solver::MatX unmet;  ///< du/dL

    /// The change of the lengths that takes away what is unmet, to first order: −(du/dL)⁻¹ u.
    [[nodiscard]] solver::VecX meeting(const solver::VecX& unmet_now) const;
};

/// @param system  the bow's, with its lengths
/// @param factor  of its tangent at brace, the freedoms held at brace struck out
[[nodiscard]] BraceByLengths brace_by_lengths(const AssembledBow& bow, const solver::System& system,
                                              const solver::State& brace, const solver::BlockFactor& factor);

}  // namespace limbwright::models
