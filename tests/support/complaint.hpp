#pragma once

#include <stdexcept>
#include <string>

namespace limbwright::testing {

/// What a refusal says.
template <class Error = std::invalid_argument, class Refusal>
std::string complaint(const Refusal& refusal) {
    try {
        refusal();
    } catch (const Error& error) {
        return error.what();
    }
    return "no complaint";
}

}  // namespace limbwright::testing
