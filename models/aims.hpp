#pragma once

#include <string>
#include <vector>

#include "models/study.hpp"

namespace limbwright::models {

/// A number that is kept for every layout of a study: one measure at one place.
struct Column {
    std::string measure, unit;
    DrawPlace at = DrawPlace::full_draw;
    bool operator==(const Column& o) const { return measure == o.measure && at == o.at; }
};

/// How well a layout does.
struct Score {
    double miss = 0;                  ///< Σ weight × miss over the aims; less is better
    std::vector<double> misses;       ///< of each aim, unweighted, in its unit
    std::vector<std::string> broken;  ///< limits that do not hold, each in a few words with figures
};

/// Scores rows of values against a study's aims and limits.
class Scorer {
public:
    /// @param columns  what `values` will hold, in order; every quantity of the study must be among them
    /// @throws std::invalid_argument if one is not
    Scorer(const Study& study, const std::vector<Column>& columns);

    [[nodiscard]] Score score(const std::vector<double>& values) const;
    /// Least and largest Σ weight × miss when every value is only known to ± its error.
    struct Bounds {
        double least = 0, largest = 0;
        bool can_hold = true;   ///< some value within the errors keeps all limits
        bool must_hold = true;  ///< every value within the errors keeps all limits
    };
    [[nodiscard]] Bounds bounds(const double* values, const double* errors) const;
    /// Columns that aims or limits look at.
    [[nodiscard]] const std::vector<std::size_t>& used() const;
};

}  // namespace limbwright::models
