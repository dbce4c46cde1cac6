#pragma once

#include <filesystem>
#include <span>

#include "postproc/output/data_tree.hpp"
#include "postproc/scene/scene.hpp"

/// VTK and HDF5 take longer to start than most commands take to run. Their writers are a library of its own,
/// opened when a file is first asked for.
namespace limbwright::postproc {

class FileWriters {
public:
    virtual ~FileWriters() = default;
    virtual void write_vtk(const std::filesystem::path& pvd, std::span<const Scene> scenes) const = 0;
    virtual void write_hdf5(const std::filesystem::path& file, const Group& root) const = 0;
};

/// The writers of `liblimbwright_files.so`, which stands beside the program. For what they do and throw see
/// `vtk_file` and `hdf5_file`.
///
/// @throws std::runtime_error if the library cannot be opened, with the system's reason
[[nodiscard]] const FileWriters& file_writers();

}  // namespace limbwright::postproc
