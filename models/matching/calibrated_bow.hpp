#pragma once

#include <vector>

#include "models/matching/calibration_parameters.hpp"

namespace limbwright::models {

/// For each parameter of a bow the place, among those of the same bow in another layout, of the one that
/// stands for the same number; −1 if it is not there. A limb's number goes with the limb: limbs are told
/// apart by how they are labelled, those of one label by their pockets, as far as they stay there.
[[nodiscard]] std::vector<int> partners(const Bow& bow, const std::vector<MatchParameter>& parameters,
                                        const Bow& other, const std::vector<MatchParameter>& of_other);

/// By what a bow differs from how it is labelled, as far as a match knows.
struct Corrections {
    Bow bow;  ///< as labelled
    std::vector<MatchParameter> parameters;
    solver::VecX change;  ///< of the parameters from the bow's values, inside units
    solver::MatX errors;  ///< covariance of the errors of `change`

    /// What a bow that is labelled so really is: the same bow in this or another layout.
    [[nodiscard]] Bow applied(Bow labelled) const;
};

}  // namespace limbwright::models
