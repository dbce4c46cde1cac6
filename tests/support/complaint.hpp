#pragma once

#include <stdexcept>
#include <string>

namespace limbwright::testing {

/// What a refusal says.
template <class Refusal>
std::string complaint(const Refusal& refusal) {
    try {
        refusal();
    } catch (const std::invalid_argument& error) {
        return error.what();
    }
    return "no complaint";
}

}  // namespace limbwright::testing
