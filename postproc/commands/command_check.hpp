#pragma once

#include <filesystem>

namespace limbwright::postproc {

struct CheckArguments {
    std::filesystem::path bow;
    bool json = false;
};
/// Checks a bow file and shows what it means, without stringing the bow.
///
/// @return exit status 0
/// @throws models::InputError with every complaint about the file
int command_check(const CheckArguments& arguments);

}  // namespace limbwright::postproc
