#include "postproc/command_start.hpp"

#include <fmt/format.h>

#include "postproc/safe_file.hpp"

namespace limbwright::postproc {

int command_start(const StartArguments& arguments) {
    if (std::filesystem::exists(arguments.file) && !arguments.force)
        throw UsageError{fmt::format("{} is there already; add --force to write over it, or name another file",
                                     arguments.file.string())};
    write_whole_file(arguments.file, models::starter_bow(arguments.bench));
    fmt::print(
        "{0} is written. Values marked as guesses want measuring; the grooves of the cams above all.\n"
        "Next: limbwright check {0}\n",
        arguments.file.string());
    return 0;
}

}  // namespace limbwright::postproc
