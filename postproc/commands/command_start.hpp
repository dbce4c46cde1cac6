#pragma once

#include <filesystem>

#include "models/bow/starter.hpp"
#include "postproc/output/usage_error.hpp"

namespace limbwright::postproc {

struct StartArguments {
    std::filesystem::path file;
    models::BenchNumbers bench;
    bool force = false;  ///< write over a file that is there
};
/// Writes a commented starter bow file from a few bench numbers, and beside it the bench file of the same
/// name and _bench.toml, with those that a bow shows at the bench and lines for the others.
///
/// @return exit status 0
/// @throws UsageError if one of the files is there already, models::InputError for bench numbers that cannot
/// be
int command_start(const StartArguments& arguments);

}  // namespace limbwright::postproc
