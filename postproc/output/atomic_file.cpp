#include "postproc/output/atomic_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;

/// A path beside the target that nothing else uses; what stands there is removed when it goes out of scope.
class Temporary {
public:
    explicit Temporary(const fs::path& target)
        : path_(target.parent_path() /
                fmt::format(".{}.{}.partial", target.filename().string(), ::getpid())) {
        fs::remove_all(path_);
    }
    ~Temporary() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;

    [[nodiscard]] const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

/// Where the target really stands: a rename would replace a symbolic link, not the file it points to.
fs::path checked(const fs::path& target, fs::file_type wanted, const char* word) {
    if (!target.has_filename())
        throw std::runtime_error(fmt::format("cannot write \"{}\": it names no {}", target.string(), word));
    const fs::path real = fs::is_symlink(target) ? fs::canonical(target) : fs::absolute(target);
    const fs::file_type found = fs::status(real).type();
    if (found != fs::file_type::not_found && found != wanted)
        throw std::runtime_error(
            fmt::format("cannot write {}: it exists already and is no {}", target.string(), word));
    if (!fs::is_directory(real.parent_path()))
        throw std::runtime_error(fmt::format("cannot write {}: there is no folder {}", target.string(),
                                             real.parent_path().string()));
    return real;
}

/// Waits until a file's content, or the names in a folder, stand on the disk.
///
/// @param call  ::syncfs: all that was written to the path's file system
void sync(const fs::path& path, int (*call)(int) = ::fsync) {
    const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    const int error = descriptor >= 0 && call(descriptor) == 0 ? 0 : errno;
    if (descriptor >= 0) ::close(descriptor);
    // Some file systems (network mounts) do not know it of folders.
    if (error != 0 && error != EINVAL)
        throw std::runtime_error(fmt::format("cannot write {}: {}", path.string(), std::strerror(error)));
}

void swap_folders(const fs::path& made, const fs::path& real) {
    if (!fs::exists(real)) {
        fs::rename(made, real);
        return;
    }
    // Both names change hands in one step, so there is no moment without a folder of that name.
    if (::renameat2(AT_FDCWD, made.c_str(), AT_FDCWD, real.c_str(), RENAME_EXCHANGE) == 0) return;
    // Not every file system can do that (some network mounts).
    const fs::path aside = real.string() + ".old";
    fs::rename(real, aside);
    std::error_code failed;
    fs::rename(made, real, failed);
    if (failed) {
        fs::rename(aside, real);
        throw std::runtime_error(fmt::format("cannot write {}: {}", real.string(), failed.message()));
    }
    fs::remove_all(aside);
}

}  // namespace

std::string read_text(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(stream), {});
    if (!stream) throw std::runtime_error(fmt::format("cannot read {}", file.string()));
    return text;
}

void write_text(const fs::path& file, std::string_view text) {
    std::ofstream stream(file, std::ios::binary);
    stream << text;
    stream.close();
    if (!stream) throw std::runtime_error(fmt::format("cannot write {}", file.string()));
}

void write_whole_file(const fs::path& file, const WriteTo& write) {
    const fs::path real = checked(file, fs::file_type::regular, "regular file");
    const Temporary temporary(real);
    write(temporary.path());
    // Content before name, or a power cut might leave the new name with nothing behind it.
    sync(temporary.path());
    fs::rename(temporary.path(), real);
    sync(real.parent_path());
}

void write_whole_file(const fs::path& file, std::string_view text) {
    write_whole_file(file, [&](const fs::path& path) { write_text(path, text); });
}

void write_whole_folder(const fs::path& folder, const WriteTo& write) {
    const fs::path real = checked(folder, fs::file_type::directory, "folder");
    const Temporary temporary(real);
    fs::create_directory(temporary.path());
    write(temporary.path());
    sync(temporary.path(), ::syncfs);  // a draw leaves a thousand files: one by one that takes seconds
    swap_folders(temporary.path(), real);
    sync(real.parent_path());
}

}  // namespace limbwright::postproc
