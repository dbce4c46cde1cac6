#pragma once

#include <cmath>
#include <initializer_list>
#include <string>
#include <utility>

#include "models/input/input_error.hpp"
#include "models/input/units.hpp"

/// What checks of a bow are written with.
namespace limbwright::models {

/// False if one of the values could not be read: comparisons with it would say nothing.
inline bool known(std::initializer_list<double> values) {
    for (const double value : values)
        if (std::isnan(value)) return false;
    return true;
}

/// A length for a message.
inline std::string mm(double value) {
    return shown(value, units::length);
}

/// Complains unless `holds`, or if there is a complaint about the key already.
inline void require(bool holds, Complaints& complaints, const std::string& key, std::string wanted,
                    std::string found = {}) {
    if (!holds && !complaints.about(key)) complaints.add(key, std::move(wanted), std::move(found));
}

}  // namespace limbwright::models
