#pragma once

#include "models/study/layout_result.hpp"
#include "models/study/reference_states.hpp"

namespace limbwright::models {

/// A layout strung as the study says, in the product or not: with today's lengths, or re-timed.
[[nodiscard]] Stringing string_up(const StudyBase& base, const Layout& layout);

/// A layout by the plain engine from cold: assembled, strung and drawn anew. For comparison, and for layouts
/// that do not come through from today's states.
[[nodiscard]] LayoutRow solve_cold(const StudyBase& base, std::int64_t number);

/// The same for a layout that need not be in the product.
///
/// @param number  for the row only
[[nodiscard]] LayoutRow solve_cold(const StudyBase& base, const Layout& layout, std::int64_t number);

/// A strung layout drawn from brace through the study's places of the nocking point.
///
/// @param number  for the row only
[[nodiscard]] LayoutRow follow(const StudyBase& base, const StrungBow& strung, std::int64_t number);

}  // namespace limbwright::models
