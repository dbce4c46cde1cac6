#include "solver/lanes/lane_solver.hpp"

#include <dlfcn.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <mutex>
#include <stdexcept>

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
    const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe");
    const std::filesystem::path library = program.parent_path() / kernel.library;
    // Never closed: the packs live as long as the program.
    void* handle = ::dlopen(library.c_str(), RTLD_NOW | RTLD_LOCAL);
    void* factory = handle ? ::dlsym(handle, "limbwright_lane_pack") : nullptr;
    if (!factory) throw std::runtime_error(std::string("cannot open the lanes' kernel: ") + ::dlerror());
    return reinterpret_cast<Factory>(factory);
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
