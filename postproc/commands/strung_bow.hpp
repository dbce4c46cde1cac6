#pragma once

#include <optional>

#include "models/states/stringing.hpp"

namespace limbwright::postproc {

/// Assembles and strings a bow; if it cannot be strung, says why on standard error.
[[nodiscard]] std::optional<models::StrungBow> strung_or_told(const models::Bow& bow);

}  // namespace limbwright::postproc
