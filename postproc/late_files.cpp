#include "postproc/late_files.hpp"

#include <dlfcn.h>

#include <stdexcept>
#include <string>

namespace limbwright::postproc {
namespace {

const FileWriters& opened() {
    const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe");
    const std::filesystem::path library = program.parent_path() / "liblimbwright_files.so";
    // Never closed: the writers, and what they throw, live as long as the program.
    void* handle = ::dlopen(library.c_str(), RTLD_NOW | RTLD_LOCAL);
    void* factory = handle ? ::dlsym(handle, "limbwright_file_writers") : nullptr;
    if (!factory) throw std::runtime_error(std::string("cannot write VTK and HDF5 files: ") + ::dlerror());
    return reinterpret_cast<const FileWriters& (*)()>(factory)();
}

}  // namespace

const FileWriters& file_writers() {
    static const FileWriters& writers = opened();
    return writers;
}

}  // namespace limbwright::postproc
