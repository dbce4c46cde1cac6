#include "solver/lanes/plugin.hpp"

#include <dlfcn.h>
#include <fmt/format.h>

#include <filesystem>
#include <stdexcept>

namespace limbwright::solver {

void* late_symbol(const std::string& library, const std::string& symbol) {
    const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe");
    void* handle = ::dlopen((program.parent_path() / library).c_str(), RTLD_NOW | RTLD_LOCAL);
    void* found = handle ? ::dlsym(handle, symbol.c_str()) : nullptr;
    if (!found) throw std::runtime_error(fmt::format("cannot use {}: {}", library, ::dlerror()));
    return found;
}

}  // namespace limbwright::solver
