#include "solver/lanes/lane_solver.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <mutex>
#include <stdexcept>

#include "solver/lanes/plugin.hpp"

namespace limbwright::solver {
namespace {

using Factory = LanePack* (*)(std::shared_ptr<const Plan>);

bool has_v3() {
#if defined(__x86_64__)
    return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma") && __builtin_cpu_supports("bmi2");
#else
    return false;
#endif
}

bool has_v4() {
#if defined(__x86_64__)
    return has_v3() && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
           __builtin_cpu_supports("avx512bw") && __builtin_cpu_supports("avx512vl") &&
           __builtin_cpu_supports("avx512cd");
#else
    return false;
#endif
}

Factory open(const LaneKernel& kernel) {
    LaneLayout theirs;
    reinterpret_cast<void (*)(LaneLayout&)>(late_symbol(kernel.library, "limbwright_lane_layout"))(theirs);
    require_this_layout(theirs, kernel);
    return reinterpret_cast<Factory>(late_symbol(kernel.library, "limbwright_lane_pack"));
}

}  // namespace

std::vector<LaneKernel> lane_kernels() {
    std::vector<LaneKernel> kernels{{"plain", "liblimbwright_lanes_plain.so", true}};
#if defined(__x86_64__)
    kernels.push_back({"x86-64-v3", "liblimbwright_lanes_x86-64-v3.so", has_v3()});
    kernels.push_back({"x86-64-v4", "liblimbwright_lanes_x86-64-v4.so", has_v4()});
#endif
    return kernels;
}

void require_this_layout(const LaneLayout& theirs, const LaneKernel& kernel) {
    const LaneLayout ours = lane_layout_here(kernel.name);
    if (theirs.kind != ours.kind)
        throw std::runtime_error(fmt::format("cannot use {}: it holds the kernel {}, not {}", kernel.library,
                                             theirs.kind.data(), kernel.name));
    if (theirs.sizes_and_alignments != ours.sizes_and_alignments)
        throw std::runtime_error(fmt::format(
            "cannot use {}: its classes are laid out otherwise than this program's; build both alike",
            kernel.library));
}

std::unique_ptr<LanePack> make_lane_pack(std::shared_ptr<const Plan> plan, const std::string& wanted) {
    static std::map<std::string, Factory> opened;
    static std::mutex one_at_a_time;
    const std::vector<LaneKernel> kernels = lane_kernels();
    const auto fits = [&](const LaneKernel& k) { return wanted.empty() ? k.runs_here : k.name == wanted; };
    const auto found = std::find_if(kernels.rbegin(), kernels.rend(), fits);
    if (found == kernels.rend()) throw std::runtime_error("there is no kernel " + wanted);
    const std::lock_guard lock(one_at_a_time);
    auto place = opened.find(found->name);
    if (place == opened.end()) place = opened.emplace(found->name, open(*found)).first;
    return std::unique_ptr<LanePack>(place->second(std::move(plan)));
}

}  // namespace limbwright::solver
