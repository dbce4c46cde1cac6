#pragma once

#include <optional>
#include <string>

namespace limbwright::models {

/// One number that was measured on the bow, or that is expected to be.
struct Measurement {
    std::string quantity;        ///< key of a `BenchQuantity`
    std::optional<double> at{};  ///< draw length where the quantity is told at one: pivot point to nock
                                 ///< groove plus 1.75 in (AMO/ATA standard, from memory) [mm]
    double value = 0;            ///< inside units
    double sigma = 0;            ///< standard deviation, inside units
    int line = 0;                ///< of the file, for messages; 0 where there is none
    std::string file{};          ///< in which that line stands
};

}  // namespace limbwright::models
