#pragma once

#include <array>

#include "models/input/enum_names.hpp"
#include "models/study/study.hpp"

/// The study file's names for wishes.
namespace limbwright::models {

inline constexpr std::array wish_names{
    Choice<Wish>{"target", Wish::target},
    Choice<Wish>{"least", Wish::least},
    Choice<Wish>{"most", Wish::most},
};

}  // namespace limbwright::models
