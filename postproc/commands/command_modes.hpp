#pragma once

#include <filesystem>
#include <optional>

namespace limbwright::postproc {

enum class ModesAt { brace, full_draw };

struct ModesArguments {
    std::filesystem::path bow;
    std::filesystem::path folder;  ///< for files; empty: the bow file's name and _modes
    int count = 10;                ///< modes of each state
    std::optional<ModesAt> at;     ///< none: both
    bool files = true;             ///< write a film of every mode
    bool json = false;             ///< the results as JSON on standard output instead of tables
};

/// Natural frequencies and stability of a bow at brace and at full draw: tables, and VTK films of the shapes.
///
/// @return exit status: 0 done, 1 if the bow could not be strung or drawn, or has no modes; what was reached
/// is shown all the same
/// @throws models::InputError with every complaint about the file
int command_modes(const ModesArguments& arguments);

}  // namespace limbwright::postproc
