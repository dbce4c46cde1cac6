#include "meshes/mesh_file.hpp"

#include "solver/lanes/plugin.hpp"

namespace limbwright::meshes {

Surface read_surface(const std::filesystem::path& file) {
    using Reader = decltype(&limbwright_read_surface);
    static const auto read =
        reinterpret_cast<Reader>(solver::late_symbol("liblimbwright_files.so", "limbwright_read_surface"));
    Surface surface;
    read(file, surface);
    return surface;
}

}  // namespace limbwright::meshes
