#include "postproc/output/json_document.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace limbwright::postproc {

using Json = nlohmann::ordered_json;

Json json_document(std::string_view name, const Json& content) {
    Json document{{"schema", fmt::format("limbwright {}", name)},
                  {"schema_version", 1},
                  {"limbwright_version", LIMBWRIGHT_VERSION}};
    document.update(content);
    return document;
}

Json finite_or_null(double value) {
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}

}  // namespace limbwright::postproc
