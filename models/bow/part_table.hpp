#pragma once

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/input/enum_names.hpp"
#include "models/input/table_reader.hpp"
#include "models/input/units.hpp"

/// A table of the bow file, under reading or under writing. What a part's table holds is described once
/// (`part_keys`, `bow_keys`), one call a key: the same call reads the key into the value or writes the value
/// under the key, so that reader and writer cannot part.
namespace limbwright::models {

struct Key {
    std::string_view name;
    std::string_view comment{};  ///< stands behind the value in a written file
    bool needed = true;          ///< a missing key is a complaint; otherwise the value stays as it is
    bool given = true;           ///< writing: whether there is a table to write
};

/// A key that may be missing.
[[nodiscard]] constexpr Key if_any(std::string_view name, std::string_view comment = {}, bool given = true) {
    return {name, comment, false, given};
}

/// How a table is written.
enum class Form {
    section,  ///< under a heading
    group,    ///< holds sections only
    line      ///< in braces on one line
};

class PartTable {
public:
    virtual ~PartTable() = default;
    [[nodiscard]] virtual bool reading() const = 0;
    /// Whether the file under reading has the key; false under writing.
    [[nodiscard]] virtual bool has(std::string_view key) = 0;
    /// Complains about the key under reading.
    virtual void complain(std::string_view key, std::string wanted, std::string found = {}) = 0;

    /// Values in N, mm, rad, MPa. One that may be missing and lies outside its range stands for none and is
    /// not written. What cannot be read becomes NaN.
    virtual void quantity(const Key& key, double& value, const Dimension& dimension, Range range) = 0;
    virtual void quantity(const Key& key, std::optional<double>& value, const Dimension& dimension,
                          Range range) = 0;
    virtual void quantities(const Key& key, std::vector<double>& values, const Dimension& dimension,
                            Range range) = 0;
    virtual void number(const Key& key, double& value, Range range) = 0;
    virtual void number(const Key& key, std::optional<double>& value, Range range) = 0;
    virtual void numbers(const Key& key, std::array<double, 2>& values) = 0;         ///< may be missing
    virtual void whole_number(const Key& key, int& value, int least, int most) = 0;  ///< may be missing
    virtual void point(const Key& key, Vec2& p, Range range) = 0;
    virtual void point(const Key& key, Vec3& p, Range range) = 0;
    virtual void text(const Key& key,
                      std::string& value) = 0;  ///< an empty one that may be missing is not written

    template <class T>
    void choice(const Key& key, T& value, std::span<const Choice<T>> choices);

    /// Files that the bow file names: traced grooves, support functions and meshes, which are loaded on
    /// reading.
    virtual void file(const Key& key, std::optional<Track::Traced>& groove) = 0;
    virtual void file(const Key& key, std::optional<Track::Support>& groove) = 0;
    virtual void file(const Key& key, std::optional<PartMesh>& mesh, PartModel model) = 0;

    /// A table inside. Under reading `describe` is called unless the table is missing and may be.
    virtual void table(const Key& key, Form form, const std::function<void(PartTable&)>& describe) = 0;
    /// Names of the tables inside: those in the file, or those given to be written.
    [[nodiscard]] virtual std::vector<std::string> names(std::vector<std::string> given) = 0;
    /// A table that is left out because it follows from another: what is wrong with it is wrong there.
    virtual void left_out(std::string_view key, std::string_view note) = 0;
    /// Lines of comment of their own.
    virtual void note(std::string_view lines) = 0;

    template <class Row>
    void rows(const Key& key, std::vector<Row>& rows, const std::function<void(PartTable&, Row&)>& describe);

protected:
    virtual void choose(const Key& key, std::size_t& index, const std::vector<std::string_view>& names) = 0;
    virtual void list(const Key& key, std::size_t size, const std::function<void(std::size_t)>& resize,
                      const std::function<void(PartTable&, std::size_t)>& row) = 0;
};

template <class T>
void PartTable::choice(const Key& key, T& value, std::span<const Choice<T>> choices) {
    std::vector<std::string_view> names;
    std::size_t index = 0;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        names.push_back(choices[i].name);
        if (choices[i].value == value) index = i;
    }
    choose(key, index, names);
    value = choices[index].value;
}

template <class Row>
void PartTable::rows(const Key& key, std::vector<Row>& rows,
                     const std::function<void(PartTable&, Row&)>& describe) {
    list(
        key, rows.size(), [&](std::size_t size) { rows.resize(size); },
        [&](PartTable& table, std::size_t i) { describe(table, rows[i]); });
}

}  // namespace limbwright::models
