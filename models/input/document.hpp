#pragma once

#include <toml++/toml.h>

#include <functional>
#include <set>
#include <string>
#include <string_view>

#include "models/input/input_error.hpp"

/// A TOML file under reading.
namespace limbwright::models {

/// Path of a key in a table: "limb.length".
[[nodiscard]] std::string joined(const std::string& path, std::string_view key);

/// A parsed file, what has been asked of it, and the complaints so far. Readers hold a pointer to it.
class Document {
public:
    /// @param file  as messages shall name it
    /// @throws InputError if the text is not TOML
    Document(std::string_view text, std::string file);
    Document(const Document&) = delete;
    Document& operator=(const Document&) = delete;

    [[nodiscard]] const toml::table& table() const { return table_; }
    [[nodiscard]] const std::string& file() const { return file_; }
    [[nodiscard]] Complaints& complaints() { return complaints_; }

    /// Keys that a reader has looked for, there or not, are the known ones.
    void note_asked(std::string path) { asked_.insert(std::move(path)); }

    /// Complains about every key that no reader has asked for, and names the one that was probably meant.
    void complain_about_unknown_keys() { complain_about_unknown_keys(table_, {}); }

private:
    [[nodiscard]] Place place_of(std::string_view key) const;
    void complain_about_unknown_keys(const toml::table& table, const std::string& path);
    [[nodiscard]] std::string advice(const std::string& path, const std::string& key) const;

    toml::table table_;
    std::string file_;
    std::set<std::string> asked_;
    Complaints complaints_;
};

/// Insertions, deletions, replacements and swaps of neighbours that turn one word into the other (optimal
/// string alignment).
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);

}  // namespace limbwright::models
