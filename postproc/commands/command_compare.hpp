#pragma once

#include <filesystem>

namespace limbwright::postproc {

struct CompareArguments {
    std::filesystem::path bow;
    bool all = false;   ///< every measure instead of those that a tuner looks at first
    bool json = false;  ///< everything as JSON on standard output instead of tables
};

/// Strings and draws a bow with limbs and riser as beams and as shells, in all four ways and once with limbs
/// of beams whose ends may warp, and prints their measures side by side, what each cost, where they part and
/// why.
///
/// @return exit status: 0 done, 1 if one of them could not be strung or drawn to the end
/// @throws models::InputError with every complaint about the file
int command_compare(const CompareArguments& arguments);

}  // namespace limbwright::postproc
