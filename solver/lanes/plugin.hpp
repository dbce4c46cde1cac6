#pragma once

#include <string>

namespace limbwright::solver {

/// A symbol of a shared library that stands beside the running program. The library is opened when first
/// asked for and never closed: what it makes and throws lives as long as the program.
///
/// @throws std::runtime_error if library or symbol cannot be had, with the system's reason
[[nodiscard]] void* late_symbol(const std::string& library, const std::string& symbol);

}  // namespace limbwright::solver
