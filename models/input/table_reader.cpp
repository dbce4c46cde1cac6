#include "models/input/table_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <functional>

namespace limbwright::models {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// What stands in the file, for a message.
std::string as_found(const toml::node& node) {
    if (const auto* text = node.as_string()) return fmt::format("\"{}\"", text->get());
    if (const auto* number = node.as_floating_point()) return fmt::format("{}", number->get());
    if (const auto* number = node.as_integer()) return fmt::format("{}", number->get());
    if (const auto* boolean = node.as_boolean()) return boolean->get() ? "true" : "false";
    if (node.is_table()) return "a table";
    if (node.is_array()) return "a list";
    return "a date or time";
}

std::string predicate(Range range, const std::function<std::string(double)>& shown) {
    const bool low = std::isfinite(range.at_least), open = std::isfinite(range.above);
    const bool high = std::isfinite(range.at_most);
    if (low && high)
        return fmt::format("must lie between {} and {}", shown(range.at_least), shown(range.at_most));
    if (open && high)
        return fmt::format("must be above {} and at most {}", shown(range.above), shown(range.at_most));
    if (low) return fmt::format("must be at least {}", shown(range.at_least));
    if (open) return fmt::format("must be above {}", shown(range.above));
    if (high) return fmt::format("must be at most {}", shown(range.at_most));
    return "must be finite";
}

}  // namespace

std::string TableReader::path_of(std::string_view key) const {
    return joined(path_, key);
}

std::vector<std::string> TableReader::keys() const {
    std::vector<std::string> keys;
    if (table_)
        for (const auto& [key, node] : *table_) keys.emplace_back(key.str());
    return keys;
}

void TableReader::complain(std::string_view key, std::string wanted, std::string found) {
    document_->complaints().add(path_of(key), std::move(wanted), std::move(found));
}

const toml::node* TableReader::find(std::string_view key) {
    document_->note_asked(path_of(key));
    return table_ ? table_->get(key) : nullptr;
}

const toml::node* TableReader::find_or_complain(std::string_view key, std::string_view wanted) {
    const toml::node* node = find(key);
    if (!node && table_) complain(key, fmt::format("is missing; it must be {}", wanted));
    return node;
}

double TableReader::quantity_at(const toml::node& node, const std::string& path, const Dimension& dimension,
                                Range range) {
    Complaints& complaints = document_->complaints();
    const auto* text = node.as_string();
    if (node.is_number() || (text && number_in(text->get()))) {
        complaints.add(path, fmt::format("needs a unit, such as {}", dimension.examples), as_found(node));
        return nan;
    }
    const std::optional<double> value = text ? quantity_in(text->get(), dimension) : std::nullopt;
    if (!value) {
        const Dimension* other = text ? dimension_of(text->get()) : nullptr;
        const std::string found = as_found(node) + (other ? fmt::format(", {}", other->noun) : "");
        complaints.add(path, fmt::format("must be {} such as {}", dimension.noun, dimension.examples), found);
        return nan;
    }
    if (range.contains(*value)) return *value;
    const std::string in_our_unit = shown(*value, dimension);
    const std::string found =
        in_our_unit == text->get() ? in_our_unit : fmt::format("{} ({})", in_our_unit, as_found(node));
    complaints.add(path, predicate(range, [&](double x) { return shown(x, dimension); }), found);
    return nan;
}

double TableReader::number_at(const toml::node& node, const std::string& path, Range range) {
    const std::optional<double> value = node.is_number() ? node.value<double>() : std::nullopt;
    if (!value) {
        document_->complaints().add(path, "must be a plain number", as_found(node));
        return nan;
    }
    if (range.contains(*value)) return *value;
    document_->complaints().add(path, predicate(range, [](double x) { return fmt::format("{:.6g}", x); }),
                                as_found(node));
    return nan;
}

double TableReader::quantity(std::string_view key, const Dimension& dimension, Range range) {
    const toml::node* node =
        find_or_complain(key, fmt::format("{} such as {}", dimension.noun, dimension.examples));
    return node ? quantity_at(*node, path_of(key), dimension, range) : nan;
}

double TableReader::quantity_or(std::string_view key, double fallback, const Dimension& dimension,
                                Range range) {
    return optional_quantity(key, dimension, range).value_or(fallback);
}

std::optional<double> TableReader::optional_quantity(std::string_view key, const Dimension& dimension,
                                                     Range range) {
    const toml::node* node = find(key);
    if (!node) return {};
    return quantity_at(*node, path_of(key), dimension, range);
}

const toml::array* TableReader::list(std::string_view key, const std::string& wanted) {
    const toml::node* node = find(key);
    if (!node) return nullptr;
    if (!node->is_array()) complain(key, "must be " + wanted, as_found(*node));
    return node->as_array();
}

std::vector<double> TableReader::quantities(std::string_view key, const Dimension& dimension, Range range) {
    find_or_complain(key, "a list such as [" + std::string(dimension.examples) + "]");
    return quantities_or_none(key, dimension, range);
}

std::vector<double> TableReader::quantities_or_none(std::string_view key, const Dimension& dimension,
                                                    Range range) {
    const toml::array* items = list(key, "a list, of which each is " + std::string(dimension.noun));
    std::vector<double> values;
    for (std::size_t i = 0; items && i < items->size(); ++i)
        values.push_back(quantity_at((*items)[i], fmt::format("{}[{}]", path_of(key), i), dimension, range));
    return values;
}

double TableReader::number(std::string_view key, Range range) {
    const toml::node* node = find_or_complain(key, "a plain number");
    return node ? number_at(*node, path_of(key), range) : nan;
}

double TableReader::number_or(std::string_view key, double fallback, Range range) {
    const toml::node* node = find(key);
    return node ? number_at(*node, path_of(key), range) : fallback;
}

std::vector<double> TableReader::numbers_or(std::string_view key, std::vector<double> fallback,
                                            std::size_t size) {
    const toml::array* items = list(key, "a list of plain numbers");
    if (!items) return fallback;
    if (items->size() != size) {
        complain(key, fmt::format("must be a list of {} plain numbers", size),
                 fmt::format("a list of {}", items->size()));
        return fallback;
    }
    std::vector<double> values;
    for (std::size_t i = 0; i < size; ++i)
        values.push_back(number_at((*items)[i], fmt::format("{}[{}]", path_of(key), i), {}));
    return values;
}

int TableReader::whole_number_or(std::string_view key, int fallback, int at_least, int at_most) {
    const toml::node* node = find(key);
    if (!node) return fallback;
    const std::optional<std::int64_t> value = node->is_integer() ? node->value<std::int64_t>() : std::nullopt;
    if (value && *value >= at_least && *value <= at_most) return static_cast<int>(*value);
    complain(key, fmt::format("must be a whole number between {} and {}", at_least, at_most),
             as_found(*node));
    return fallback;
}

std::vector<double> TableReader::lengths(std::string_view key, std::size_t size, const std::string& example,
                                         Range range) {
    const toml::node* node = find_or_complain(key, example);
    const toml::array* items = node ? node->as_array() : nullptr;
    if (node && (!items || items->size() != size)) {
        complain(key, "must be " + example,
                 items ? fmt::format("a list of {}", items->size()) : as_found(*node));
        items = nullptr;
    }
    return items ? quantities_or_none(key, units::length, range) : std::vector<double>(size, nan);
}

solver::Vec2 TableReader::plane_point(std::string_view key, Range range) {
    const std::vector<double> x = lengths(key, 2, R"(two lengths such as ["3 mm", "-8 mm"])", range);
    return {x[0], x[1]};
}

solver::Vec3 TableReader::point(std::string_view key, Range range) {
    const std::vector<double> x =
        lengths(key, 3, R"(three lengths such as ["20 mm", "-18 mm", "300 mm"])", range);
    return {x[0], x[1], x[2]};
}

solver::Vec3 TableReader::point_or(std::string_view key, const solver::Vec3& fallback, Range range) {
    return find(key) ? point(key, range) : fallback;
}

std::string TableReader::text(std::string_view key) {
    const toml::node* node = find_or_complain(key, "a text in quotes");
    return node ? text_or(key, {}) : std::string();
}

std::string TableReader::text_or(std::string_view key, std::string fallback) {
    const toml::node* node = find(key);
    if (!node) return fallback;
    if (const auto* text = node->as_string()) return text->get();
    complain(key, "must be a text in quotes", as_found(*node));
    return fallback;
}

std::optional<std::size_t> TableReader::choice_index(std::string_view key,
                                                     const std::vector<std::string_view>& names) {
    std::vector<std::string> quoted;
    for (const std::string_view name : names) quoted.push_back(fmt::format("\"{}\"", name));
    const std::string wanted = fmt::format("one of {}", fmt::join(quoted, ", "));
    const toml::node* node = find_or_complain(key, wanted);
    if (!node) return {};
    const auto* text = node->as_string();
    const auto found = text ? std::ranges::find(names, text->get()) : names.end();
    if (found == names.end()) {
        complain(key, "must be " + wanted, as_found(*node));
        return {};
    }
    return found - names.begin();
}

TableReader TableReader::table(std::string_view key) {
    find_or_complain(key, "a table of its own");
    return table_if_any(key);
}

TableReader TableReader::table_if_any(std::string_view key) {
    const toml::node* node = find(key);
    if (node && !node->is_table()) complain(key, "must be a table of its own", as_found(*node));
    return {*document_, node ? node->as_table() : nullptr, path_of(key)};
}

std::vector<TableReader> TableReader::tables(std::string_view key) {
    find_or_complain(key, "a list of tables { ... }");
    const toml::array* items = list(key, "a list of tables { ... }");
    std::vector<TableReader> readers;
    for (std::size_t i = 0; items && i < items->size(); ++i) {
        const std::string path = fmt::format("{}[{}]", path_of(key), i);
        const toml::node& item = (*items)[i];
        if (!item.is_table()) document_->complaints().add(path, "must be a table { ... }", as_found(item));
        readers.emplace_back(*document_, item.as_table(), path);
    }
    return readers;
}

}  // namespace limbwright::models
