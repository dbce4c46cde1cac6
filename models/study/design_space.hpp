#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "models/bow/settings.hpp"
#include "models/study/pairings.hpp"
#include "models/study/spacer_combinations.hpp"
#include "models/study/study.hpp"

namespace limbwright::models {

/// How many values the steps have; they must be checked: from ≤ to, step > 0. A number, not a count, so that
/// no steps are too many for it.
[[nodiscard]] double count_of(const Steps& steps);

/// from, from + step, … up to `to`; what rounding leaves of zero is zero.
[[nodiscard]] std::vector<double> values_of(const Steps& steps);

/// Every layout that a study asks for, each once: pairings × spacer layouts × values of each range. Layouts
/// are numbered from zero, the last range running fastest, then those before it, then spacers, then pairings.
/// All else is as in today's layout, and so are limbs, spacers and settings that the study leaves out.
class Product {
public:
    /// @param study  as its reader has checked it against the bow
    /// @throws std::invalid_argument  if a range names a setting that the bow does not have
    /// @throws std::length_error      if the box holds too many spacer layouts to go through
    Product(const Bow& bow, const Study& study);

    [[nodiscard]] std::int64_t size() const { return size_; }
    [[nodiscard]] Layout layout(std::int64_t number) const;
    /// Of a layout that differs from today's in nothing but what varies; none if it is not one of these.
    /// Spacers count by where they put the cams.
    [[nodiscard]] std::optional<std::int64_t> number_of(const Layout& layout) const;

    /// Settings that take more than one value in this product, in a fixed order: limb numbers of the pockets,
    /// spacers top and bottom (as cam offsets), then the ranges.
    [[nodiscard]] const std::vector<Setting>& varied() const { return varied_; }
    /// Values of the varied settings of a layout, without building it.
    ///
    /// @param values  room for as many as there are varied settings
    void point(std::int64_t number, double* values) const;

    /// Distinct ones, today's among them if it can be.
    [[nodiscard]] const std::vector<Pairing>& pairings() const { return pairings_; }
    /// Choices and arrangements of limbs, equal numbers told apart; one if the limbs stay.
    [[nodiscard]] std::int64_t arrangements() const { return arrangements_; }
    /// Distinct by their cam offsets; of those alike the one of least rework.
    [[nodiscard]] const std::vector<SpacerPair>& spacers() const { return spacers_; }
    /// Values of each range, in the study's order.
    [[nodiscard]] const std::vector<std::vector<double>>& ranges() const { return ranges_; }

private:
    /// Pairings, spacers or one range.
    struct Factor {
        std::int64_t size = 1;
        std::int64_t stride = 1;  ///< numbers from one choice to the next
        std::vector<std::vector<double>>
            columns;  ///< of each varied setting that it holds, the value per choice
        [[nodiscard]] std::size_t choice(std::int64_t number) const {
            return static_cast<std::size_t>(number / stride % size);
        }
    };

    /// Adds a factor; `apply` sets one of the choices in a layout.
    template <class Choice, class Apply>
    void add_factor(const std::vector<Choice>& choices, const std::vector<Setting>& settings,
                    const Apply& apply);

    Layout today_;
    std::vector<Pairing> pairings_;
    std::int64_t arrangements_ = 1;
    std::vector<SpacerPair> spacers_;
    std::vector<std::vector<double>> ranges_;
    std::vector<Setting> range_settings_;
    std::vector<Setting> varied_;
    std::vector<Factor> factors_;  ///< pairings, spacers, each range
    std::int64_t size_ = 1;
};

}  // namespace limbwright::models
