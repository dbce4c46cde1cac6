#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "models/settings.hpp"
#include "models/study.hpp"

namespace limbwright::models {

/// Spacers at both cams, out of one box.
struct SpacerPair {
    SpacerStacks top, bottom;
};

/// Every layout that a study asks for, each once: pairings × spacer layouts × values of each range. Layouts are
/// numbered, the last range running fastest, then those before it, then spacers, then pairings.
class Product {
public:
    /// @throws InputError-free: the study has been checked by its reader against the bow
    Product(const Bow& bow, const Study& study);

    [[nodiscard]] std::int64_t size() const;
    [[nodiscard]] Layout layout(std::int64_t number) const;
    /// Settings that vary in this product, in a fixed order: limb numbers of the pockets, spacers top and
    /// bottom (as cam offsets), then the ranges.
    [[nodiscard]] const std::vector<Setting>& varied() const;
    /// Values of the varied settings of a layout, without building it.
    void point(std::int64_t number, double* values) const;

    [[nodiscard]] const std::vector<Pairing>& pairings() const;   ///< distinct ones, today's among them if it can be
    [[nodiscard]] std::int64_t arrangements() const;              ///< of limbs, equal numbers told apart
    [[nodiscard]] const std::vector<SpacerPair>& spacers() const; ///< distinct by cam offsets; least rework of those alike
    [[nodiscard]] const std::vector<std::vector<double>>& ranges() const;
};

}  // namespace limbwright::models
