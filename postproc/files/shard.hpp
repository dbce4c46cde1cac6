#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>

/// A study's layouts divided among several runs of the program.
namespace limbwright::postproc {

/// The index-th of so many shares, from one.
struct Shard {
    int index = 1, count = 1;
    int ranks_here = 1;  ///< shares that run on this machine at the same time

    /// Layouts are dealt out like cards.
    [[nodiscard]] bool holds(std::int64_t number) const { return number % count == index - 1; }
};

/// Value of an environment variable; none if it is not set.
using Environment = std::function<std::optional<std::string>(const char* name)>;
[[nodiscard]] std::optional<std::string> from_environment(const char* name);

/// "2/8", or "auto": what mpirun (Open MPI, or PMI) or Slurm (array, or task) has set.
///
/// @throws UsageError for what is neither, and if nothing is set
[[nodiscard]] Shard shard_from(const std::string& text, const Environment& environment = from_environment);

/// Threads for one of the shares on this machine: the cores that this process may use, at most its part of
/// all.
[[nodiscard]] int threads_for(const Shard& shard);

}  // namespace limbwright::postproc
