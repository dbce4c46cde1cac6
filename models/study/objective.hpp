#pragma once

#include <string>
#include <vector>

#include "models/study/study.hpp"

namespace limbwright::models {

/// Place of a measure among the columns.
///
/// @throws std::invalid_argument if it is not there
[[nodiscard]] std::size_t index_of(const MeasureKey& key, const std::vector<PlacedMeasure>& columns);

/// "cam lean, top, less cam lean, bottom, at full draw".
///
/// @throws std::invalid_argument if a measure of the quantity is not among the columns
[[nodiscard]] std::string in_words(const Quantity& quantity, const std::vector<PlacedMeasure>& columns);

/// How well a layout does.
struct Score {
    double miss = 0;                  ///< Σ weight × miss over the aims; less is better
    std::vector<double> misses;       ///< of each aim, unweighted, in its unit
    std::vector<std::string> broken;  ///< limits that do not hold, each in a few words with figures
};

/// Scores rows of values against a study's aims and limits. A value that is not a number misses its aim by
/// infinity and keeps no limit.
class Scorer {
public:
    /// @param columns  what `values` will hold, in order; every quantity of the study must be among them
    /// @throws std::invalid_argument if one is not
    Scorer(const Study& study, const std::vector<PlacedMeasure>& columns);

    [[nodiscard]] Score score(const std::vector<double>& values) const;

    /// Least and largest Σ weight × miss when every value is only known to ± its error, each aim's own bounds
    /// added up; with `less` the two errors add. What is not a number may be anything.
    struct Bounds {
        double least = 0, largest = 0;
        bool can_hold = true;   ///< some value within the errors keeps each of the limits
        bool must_hold = true;  ///< every value within the errors keeps all limits
    };
    /// @param errors  not negative
    [[nodiscard]] Bounds bounds(const double* values, const double* errors) const;

    /// Columns that aims or limits look at, in rising order.
    [[nodiscard]] const std::vector<std::size_t>& used() const { return used_; }

private:
    /// A quantity's columns.
    struct Source {
        std::size_t column = 0, less = none;
        static constexpr std::size_t none = static_cast<std::size_t>(-1);
    };
    struct Interval {
        double low = 0, high = 0;
    };

    Source source_of(const Quantity& quantity, const std::vector<PlacedMeasure>& columns);
    [[nodiscard]] static double value_at(const Source& source, const double* values);
    [[nodiscard]] static Interval interval_at(const Source& source, const double* values,
                                              const double* errors);

    std::vector<Aim> aims_;
    std::vector<Limit> limits_;
    std::vector<Source> aim_sources_, limit_sources_;
    std::vector<std::string> limit_names_, limit_units_;
    std::vector<std::size_t> used_;
};

}  // namespace limbwright::models
