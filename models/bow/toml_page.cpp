#include "models/bow/toml_page.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace limbwright::models {

std::string quoted_text(std::string_view text) {
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\')
            result += std::string("\\") + c;
        else if (c == '\n')
            result += "\\n";
        else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F)
            result += fmt::format("\\u{:04X}", static_cast<unsigned>(c));
        else
            result += c;
    }
    return result + '"';
}

std::string key_text(std::string_view name) {
    const bool bare = !name.empty() && std::ranges::all_of(name, [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
               c == '-';
    });
    return bare ? std::string(name) : quoted_text(name);
}

std::string quantity_text(double value, const Dimension& dimension) {
    return quoted_text(written(value, dimension));
}

std::string length_text(double value) {
    return quantity_text(value, units::length);
}

std::string angle_text(double value) {
    return quantity_text(value, units::angle);
}

std::string number_text(double value) {
    return fmt::format("{}", value + 0.0);  // −0 as 0
}

std::string lengths_text(const std::vector<double>& values) {
    std::vector<std::string> items;
    for (const double value : values) items.push_back(length_text(value));
    return fmt::format("[{}]", fmt::join(items, ", "));
}

void TomlPage::heading(std::string_view name, std::string_view comment) {
    text_ += '\n';
    line(fmt::format("[{}]", name), comment);
}

void TomlPage::key(std::string_view name, std::string_view value, std::string_view comment) {
    line(fmt::format("{} = {}", name, value), comment);
}

void TomlPage::line(std::string_view text, std::string_view comment) {
    text_ += text;
    if (!comment.empty()) text_ += fmt::format("{}# {}", text.empty() ? "" : "  ", comment);
    text_ += '\n';
}

}  // namespace limbwright::models
