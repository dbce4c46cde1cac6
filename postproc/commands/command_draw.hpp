#pragma once

#include <filesystem>
#include <optional>

namespace limbwright::postproc {

struct DrawArguments {
    std::filesystem::path bow;
    std::filesystem::path
        folder;             ///< for files; empty: beside the current folder's files, named after the bow
    bool json = false;      ///< the results as JSON on standard output instead of tables
    bool files = true;      ///< write files at all
    bool let_down = false;  ///< let the bow down again afterwards and report what is left over
    std::optional<double> draw_length;  ///< instead of the bow's [mm]
    std::optional<int> states;
};
/// Strings and draws a bow; prints tables, writes HDF5, VTK and pictures.
///
/// @return exit status: 0 done, 1 if the bow could not be strung or drawn to the end; what was reached is
/// shown all the same
/// @throws models::InputError with every complaint about the file, UsageError for a draw length that cannot
/// be
int command_draw(const DrawArguments& arguments);

}  // namespace limbwright::postproc
