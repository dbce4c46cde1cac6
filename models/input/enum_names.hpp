#pragma once

#include <span>
#include <string_view>

/// Values that go by a name in files.
namespace limbwright::models {

template <class T>
struct Choice {
    std::string_view name;
    T value;
};

/// The value must be among the choices.
template <class T>
[[nodiscard]] constexpr std::string_view name_of(T value, std::span<const Choice<T>> choices) {
    std::size_t i = 0;
    while (choices[i].value != value) ++i;
    return choices[i].name;
}

}  // namespace limbwright::models
