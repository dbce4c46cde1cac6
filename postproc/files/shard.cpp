#include "postproc/files/shard.hpp"

#include <fmt/format.h>
#include <sched.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <string_view>
#include <thread>

#include "postproc/output/usage_error.hpp"

namespace limbwright::postproc {
namespace {

/// What a launcher calls a task's number and the number of tasks; the first number and the step are zero and
/// one where they have no name.
struct Launcher {
    const char *index, *count, *first, *step;
};
constexpr Launcher launchers[] = {
    {"OMPI_COMM_WORLD_RANK", "OMPI_COMM_WORLD_SIZE", nullptr, nullptr},
    {"PMI_RANK", "PMI_SIZE", nullptr, nullptr},
    {"SLURM_ARRAY_TASK_ID", "SLURM_ARRAY_TASK_COUNT", "SLURM_ARRAY_TASK_MIN", "SLURM_ARRAY_TASK_STEP"},
    {"SLURM_PROCID", "SLURM_NTASKS", nullptr, nullptr},
};
constexpr const char* ranks_on_this_machine[] = {"OMPI_COMM_WORLD_LOCAL_SIZE", "MPI_LOCALNRANKS"};

std::optional<int> whole_number(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) return {};
    return value;
}

std::optional<int> number_in(const Environment& environment, const char* name) {
    const std::optional<std::string> text = environment(name);
    if (!text) return {};
    const std::optional<int> value = whole_number(*text);
    if (!value)
        throw UsageError{
            fmt::format("{} must be a whole number for --shard auto, but is \"{}\"", name, *text)};
    return value;
}

void check(const Shard& shard, const std::string& from) {
    if (shard.index < 1 || shard.index > shard.count)
        throw UsageError{fmt::format("{} must name one of so many shares, from 1/N to N/N, but says {}/{}",
                                     from, shard.index, shard.count)};
}

Shard set_by_launcher(const Environment& environment) {
    std::string names;
    for (const Launcher& launcher : launchers) {
        names += fmt::format("{}{} and {}", names.empty() ? "" : ", ", launcher.index, launcher.count);
        const std::optional<int> index = number_in(environment, launcher.index),
                                 count = number_in(environment, launcher.count);
        if (!index || !count) continue;
        const auto number_or = [&](const char* name, int otherwise) {
            return name ? number_in(environment, name).value_or(otherwise) : otherwise;
        };
        const int first = number_or(launcher.first, 0), step = std::max(1, number_or(launcher.step, 1));
        Shard shard{(*index - first) / step + 1, *count};
        check(shard, launcher.index);
        for (const char* name : ranks_on_this_machine)
            if (const std::optional<int> here = number_in(environment, name)) {
                shard.ranks_here = std::max(1, *here);
                break;
            }
        return shard;
    }
    throw UsageError{"--shard auto takes its share from what a launcher sets, but none of these is set: " +
                     names};
}

}  // namespace

std::optional<std::string> from_environment(const char* name) {
    const char* value = std::getenv(name);
    return value ? std::optional<std::string>(value) : std::nullopt;
}

Shard shard_from(const std::string& text, const Environment& environment) {
    if (text == "auto") return set_by_launcher(environment);
    const std::size_t slash = text.find('/');
    const std::string_view whole = text;
    const std::optional<int> index = whole_number(whole.substr(0, slash)),
                             count = slash == std::string::npos ? std::nullopt
                                                                : whole_number(whole.substr(slash + 1));
    if (!index || !count)
        throw UsageError{fmt::format("--shard must be a share such as 2/8, or auto, but is \"{}\"", text)};
    const Shard shard{*index, *count};
    check(shard, "--shard");
    return shard;
}

int threads_for(const Shard& shard) {
    const int all = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
    cpu_set_t allowed;
    const int usable = sched_getaffinity(0, sizeof allowed, &allowed) == 0 ? CPU_COUNT(&allowed) : all;
    return std::max(1, std::min(usable, all / shard.ranks_here));
}

}  // namespace limbwright::postproc
