#include "postproc/commands/strung_bow.hpp"

#include <fmt/format.h>

namespace limbwright::postproc {

std::optional<models::StrungBow> strung_or_told(const models::Bow& bow) {
    models::Stringing stringing = models::string_up(models::assemble(bow));
    if (const auto* lost = std::get_if<models::NotStrung>(&stringing)) {
        fmt::print(stderr, "{} could not be strung: {}\n", bow.name, lost->reason);
        return {};
    }
    return std::get<models::StrungBow>(std::move(stringing));
}

}  // namespace limbwright::postproc
