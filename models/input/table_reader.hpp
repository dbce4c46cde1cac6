#pragma once

#include <cmath>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "models/input/document.hpp"
#include "models/input/enum_names.hpp"
#include "models/input/units.hpp"
#include "solver/numbers/algebra.hpp"

/// Reading a TOML document key by key, gathering complaints instead of stopping at the first one.
namespace limbwright::models {

/// Allowed values; whatever is not within, NaN above all, is a complaint.
struct Range {
    double at_least = -std::numeric_limits<double>::infinity();
    double above = -std::numeric_limits<double>::infinity();
    double at_most = std::numeric_limits<double>::infinity();

    [[nodiscard]] bool contains(double value) const {
        return std::isfinite(value) && value >= at_least && value > above && value <= at_most;
    }
};

/// One table of a document. What cannot be read leaves a complaint and comes back as NaN (numbers), empty
/// (texts, lists) or the fallback. A reader of a missing table answers the same way but stays silent: the
/// missing table was complaint enough.
class TableReader {
public:
    /// The top of the document.
    explicit TableReader(Document& document) : TableReader(document, &document.table(), {}) {}

    TableReader(Document& document, const toml::table* table, std::string path)
        : document_(&document), table_(table), path_(std::move(path)) {}

    [[nodiscard]] bool present() const { return table_ != nullptr; }
    [[nodiscard]] bool has(std::string_view key) { return find(key) != nullptr; }
    [[nodiscard]] std::vector<std::string> keys() const;  ///< in the order of the alphabet
    [[nodiscard]] std::string path_of(std::string_view key) const;

    /// A quantity with its unit, in N, mm, rad, MPa.
    double quantity(std::string_view key, const Dimension& dimension, Range range = {});
    double quantity_or(std::string_view key, double fallback, const Dimension& dimension, Range range = {});
    std::optional<double> optional_quantity(std::string_view key, const Dimension& dimension,
                                            Range range = {});
    std::vector<double> quantities(std::string_view key, const Dimension& dimension, Range range = {});
    std::vector<double> quantities_or_none(std::string_view key, const Dimension& dimension,
                                           Range range = {});

    /// A plain number.
    double number(std::string_view key, Range range = {});
    double number_or(std::string_view key, double fallback, Range range = {});
    std::vector<double> numbers_or(std::string_view key, std::vector<double> fallback, std::size_t size);
    int whole_number_or(std::string_view key, int fallback, int at_least, int at_most);

    /// Two or three lengths, each within `range` [mm].
    solver::Vec2 plane_point(std::string_view key, Range range = {});
    solver::Vec3 point(std::string_view key, Range range = {});
    solver::Vec3 point_or(std::string_view key, const solver::Vec3& fallback, Range range = {});

    std::string text(std::string_view key);
    std::string text_or(std::string_view key, std::string fallback);

    /// Place of one of the names; none where it cannot be read.
    std::optional<std::size_t> choice_index(std::string_view key, const std::vector<std::string_view>& names);
    /// One of the names; the first choice where it cannot be read.
    template <class T>
    T choice(std::string_view key, std::span<const Choice<T>> choices);

    TableReader table(std::string_view key);
    TableReader table_if_any(std::string_view key);
    std::vector<TableReader> tables(std::string_view key);

    void complain(std::string_view key, std::string wanted, std::string found = {});

private:
    const toml::node* find(std::string_view key);
    const toml::node* find_or_complain(std::string_view key, std::string_view wanted);
    double quantity_at(const toml::node& node, const std::string& path, const Dimension& dimension,
                       Range range);
    double number_at(const toml::node& node, const std::string& path, Range range);
    const toml::array* list(std::string_view key, const std::string& wanted);
    std::vector<double> lengths(std::string_view key, std::size_t size, const std::string& example,
                                Range range);

    Document* document_;
    const toml::table* table_;
    std::string path_;
};

template <class T>
T TableReader::choice(std::string_view key, std::span<const Choice<T>> choices) {
    std::vector<std::string_view> names;
    for (const Choice<T>& one : choices) names.push_back(one.name);
    return choices[choice_index(key, names).value_or(0)].value;
}

}  // namespace limbwright::models
