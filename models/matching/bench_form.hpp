#pragma once

#include "models/bow/starter.hpp"
#include "models/matching/bench_file.hpp"

namespace limbwright::models {

/// The bench sheet that goes with a starter file: the numbers of it that a bow shows at the bench, and how
/// unsure its guesses are.
///
/// @param bow  read from the starter's text
[[nodiscard]] BenchRecord starter_bench(const BenchNumbers& numbers, const Bow& bow);

}  // namespace limbwright::models
