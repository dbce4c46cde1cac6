#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace limbwright::models {

/// What solving one layout of a study gave.
struct LayoutRow {
    std::int64_t number = 0;     ///< of the layout in its product
    std::vector<double> values;  ///< one for each column of the study; empty if it could not be solved
    std::string failure;         ///< why it could not be solved; empty if it could
};

}  // namespace limbwright::models
