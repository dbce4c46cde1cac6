#pragma once

#include "models/study/layout_result.hpp"
#include "models/study/reference_states.hpp"

/// From the few states of a layout to its row.
namespace limbwright::models {

/// Values of the study's columns; or why the states are of no use: a cable slack at brace, or run off the end
/// of its groove at full draw.
[[nodiscard]] LayoutRow row_with(const StudyBase& base, std::int64_t number, const StrungBow& strung,
                                 const ShortDraw& states);

}  // namespace limbwright::models
