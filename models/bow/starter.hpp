#pragma once

#include <string>

#include "models/bow/bow.hpp"

namespace limbwright::models {

/// What a tape, a caliper and a scale tell about a bow in a few minutes. All are needed but for the tip's
/// width.
struct BenchNumbers {
    double axle_to_axle = 0;         ///< [mm]
    double brace_height = 0;         ///< [mm]
    double draw_length = 0;          ///< pivot point to nock groove plus 1.75 in [mm]
    double peak_weight = 0;          ///< [N]
    double limb_length = 0;          ///< along the limb, from the pocket to the axle [mm]
    double limb_width_root = 0;      ///< of one split limb [mm]
    double limb_width_tip = 0;       ///< [mm]; 0: as at the root
    double limb_thickness_root = 0;  ///< [mm]
    double limb_thickness_tip = 0;   ///< [mm]
    Hand hand = Hand::right;
};

/// A commented bow file of a crossed-cable bow with split limbs to start from. What is not a bench number is
/// filled in with plausible values, each marked as a guess; limbs are made as stiff as the peak weight asks,
/// and the cams as large as the power stroke asks, in proportion. A left-handed bow is the right-handed one's
/// image.
///
/// @param rate_share  of the guessed spring rate of the limbs, for whoever draws the bow and corrects the
/// guess
/// @throws InputError with every bench number that cannot be
[[nodiscard]] std::string starter_bow(const BenchNumbers& bench, double rate_share = 1);

}  // namespace limbwright::models
