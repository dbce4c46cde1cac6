#include "postproc/files/file_plugin.hpp"

#include "solver/lanes/plugin.hpp"

namespace limbwright::postproc {

const FileWriters& file_writers() {
    using Factory = const FileWriters& (*)();
    static const FileWriters& writers =
        reinterpret_cast<Factory>(solver::late_symbol("liblimbwright_files.so", "limbwright_file_writers"))();
    return writers;
}

}  // namespace limbwright::postproc
