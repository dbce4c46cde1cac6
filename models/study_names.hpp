#pragma once

#include <array>

#include "models/choice.hpp"
#include "models/study.hpp"

/// The study file's names for rules, places and wishes.
namespace limbwright::models {

inline constexpr std::array length_rule_names{
    Choice<LengthRule>{"kept", LengthRule::kept},
    Choice<LengthRule>{"re-timed", LengthRule::re_timed},
};
/// Of states; a measure of the draw as a whole has no place.
inline constexpr std::array place_names{
    Choice<DrawPlace>{"brace", DrawPlace::brace},
    Choice<DrawPlace>{"peak", DrawPlace::peak},
    Choice<DrawPlace>{"full draw", DrawPlace::full_draw},
};
inline constexpr std::array wish_names{
    Choice<Wish>{"target", Wish::target},
    Choice<Wish>{"least", Wish::least},
    Choice<Wish>{"most", Wish::most},
};

}  // namespace limbwright::models
