#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "models/input/units.hpp"

/// Values as a bow file writes them, and the page they are written on.
namespace limbwright::models {

/// A TOML string with whatever it needs escaped.
[[nodiscard]] std::string quoted_text(std::string_view text);

/// A part of a key or of a table's name, in quotes where TOML needs them.
[[nodiscard]] std::string key_text(std::string_view name);

/// A quantity with its unit, in quotes.
[[nodiscard]] std::string quantity_text(double value, const Dimension& dimension);
[[nodiscard]] std::string length_text(double value);
[[nodiscard]] std::string angle_text(double value);

/// The fewest digits that read back to the same bits.
[[nodiscard]] std::string number_text(double value);

/// A list of lengths.
[[nodiscard]] std::string lengths_text(const std::vector<double>& values);

/// A TOML text growing line by line; a comment stands at the end of its line.
class TomlPage {
public:
    void heading(std::string_view name, std::string_view comment = {});
    void key(std::string_view name, std::string_view value, std::string_view comment = {});
    void line(std::string_view text, std::string_view comment = {});
    void add(const TomlPage& page) { text_ += page.text_; }
    [[nodiscard]] const std::string& text() const { return text_; }

private:
    std::string text_;
};

}  // namespace limbwright::models
