#pragma once

#include <fmt/format.h>

#include <stdexcept>

#include "solver/system/continuation.hpp"

namespace limbwright::testing {

/// The state; without one the test fails with Newton's own sentence.
inline solver::Equilibrium found(solver::FoundEquilibrium answer) {
    if (const auto* failure = std::get_if<solver::NotConverged>(&answer))
        throw std::runtime_error(failure->reason);
    return std::get<solver::Equilibrium>(std::move(answer));
}

/// The states of a path that came through.
inline std::vector<solver::PathState> all_states(solver::Path path) {
    if (path.failure)
        throw std::runtime_error(
            fmt::format("the path ends at {}: {}", path.failure->reached, path.failure->cause.reason));
    return std::move(path.states);
}

}  // namespace limbwright::testing
