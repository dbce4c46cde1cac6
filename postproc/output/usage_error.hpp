#pragma once

#include <string>

namespace limbwright::postproc {

/// Something on the command line is wrong, in a sentence.
struct UsageError {
    std::string sentence;
};

}  // namespace limbwright::postproc
