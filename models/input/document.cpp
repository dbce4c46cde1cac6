#include "models/input/document.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <limits>
#include <vector>

namespace limbwright::models {
namespace {

toml::table parsed(std::string_view text, const std::string& file) {
    try {
        return toml::parse(text, file);
    } catch (const toml::parse_error& error) {
        const auto [line, column] = error.source().begin;
        const Place place{file, static_cast<int>(line), static_cast<int>(column)};
        throw InputError({{place, {}, fmt::format("this is not TOML: {}", error.description()), {}}});
    }
}

std::string_view parent(std::string_view path) {
    const auto dot = path.find_last_of('.');
    return dot == std::string_view::npos ? std::string_view() : path.substr(0, dot);
}

std::string_view leaf(std::string_view path) {
    return path.substr(path.find_last_of('.') + 1);
}

}  // namespace

std::string joined(const std::string& path, std::string_view key) {
    return path.empty() ? std::string(key) : fmt::format("{}.{}", path, key);
}

int edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) {
        for (std::size_t j = 0; j <= b.size(); ++j) {
            if (i == 0 || j == 0) {
                d[i][j] = static_cast<int>(i + j);
                continue;
            }
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] != b[j - 1])});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    }
    return d[a.size()][b.size()];
}

Document::Document(std::string_view text, std::string file)
    : table_(parsed(text, file)),
      file_(std::move(file)),
      complaints_([this](std::string_view key) { return place_of(key); }) {}

Place Document::place_of(std::string_view key) const {
    // The nearest part of the file that is there: a missing key stands where its table begins.
    while (!key.empty()) {
        if (const auto node = toml::at_path(table_, key)) {
            const auto [line, column] = node.node()->source().begin;
            return {file_, static_cast<int>(line), static_cast<int>(column)};
        }
        const auto last = key.find_last_of(".[");
        key = last == std::string_view::npos ? std::string_view() : key.substr(0, last);
    }
    return {file_, 1, 1};
}

std::string Document::advice(const std::string& path, const std::string& key) const {
    const int far = std::max(2, static_cast<int>(key.size()) / 3) + 1;
    int best = far;
    std::string meant;
    std::vector<std::string> known;
    for (const std::string& asked : asked_) {
        const std::string name(leaf(asked));
        if (parent(asked) != path) {
            if (name == key && best > 0) meant = asked, best = 0;
            continue;
        }
        known.push_back(name);
        const int distance = edit_distance(key, name);
        if (distance < best) meant = joined(path, name), best = distance;
    }
    if (best < far) return fmt::format("did you mean {}?", meant);
    return fmt::format("known here are {}", fmt::join(known, ", "));
}

void Document::complain_about_unknown_keys(const toml::table& table, const std::string& path) {
    for (const auto& [toml_key, node] : table) {
        const std::string key(toml_key.str());
        const std::string whole = joined(path, key);
        if (!asked_.contains(whole)) {
            const auto [line, column] = toml_key.source().begin;
            const Place place{file_, static_cast<int>(line), static_cast<int>(column)};
            complaints_.add_at(place, whole, "is not a known key; " + advice(path, key));
            continue;
        }
        if (const toml::table* inner = node.as_table()) complain_about_unknown_keys(*inner, whole);
        const toml::array* items = node.as_array();
        for (std::size_t i = 0; items && i < items->size(); ++i)
            if (const toml::table* inner = (*items)[i].as_table())
                complain_about_unknown_keys(*inner, fmt::format("{}[{}]", whole, i));
    }
}

}  // namespace limbwright::models
