#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>

/// What every JSON that the program writes has in common.
namespace limbwright::postproc {

/// {schema: "limbwright NAME", schema_version, limbwright_version}, the first keys of every document, then
/// those of `content` (an object).
[[nodiscard]] nlohmann::ordered_json json_document(std::string_view name,
                                                   const nlohmann::ordered_json& content);

/// The number, or null where it is NaN or infinite.
[[nodiscard]] nlohmann::ordered_json finite_or_null(double value);

}  // namespace limbwright::postproc
