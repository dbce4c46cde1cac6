#include "models/bow/bow_file.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <vector>

#include "models/bow/bow_reader.hpp"
#include "models/input/document.hpp"
#include "models/input/table_reader.hpp"

namespace limbwright::models {
namespace {

namespace fs = std::filesystem;

std::optional<std::string> content(const fs::path& file) {
    std::error_code ignored;
    if (fs::is_directory(file, ignored)) return {};
    std::ifstream stream(file, std::ios::binary);
    if (!stream) return {};
    return std::string(std::istreambuf_iterator<char>(stream), {});
}

/// @param outer  the files whose mirror images are being read, to catch a ring
Bow bow_in_text(std::string_view text, const fs::path& file, std::vector<fs::path> outer);

Bow mirror_image(Document& document, const fs::path& file, std::vector<fs::path> outer) {
    TableReader table(document);
    const fs::path other = file.parent_path() / table.text("mirror_of");
    const std::string name = table.text_or("name", {});
    const std::string story = table.text_or("story", {});
    document.complain_about_unknown_keys();
    outer.push_back(fs::weakly_canonical(file));
    std::optional<std::string> text;
    if (!document.complaints().about("mirror_of")) {
        if (std::ranges::find(outer, fs::weakly_canonical(other)) != outer.end())
            table.complain("mirror_of", "must not lead back to the same file", other.string());
        else if (text = content(other); !text)
            table.complain("mirror_of",
                           "must name a bow file beside this one, but " + other.string() + " cannot be read");
    }
    document.complaints().finish();
    Bow bow = mirrored(bow_in_text(*text, other, std::move(outer)));
    if (!name.empty()) bow.name = name;
    if (!story.empty()) bow.story = story;
    return bow;
}

Bow bow_in_text(std::string_view text, const fs::path& file, std::vector<fs::path> outer) {
    Document document(text, file.string());
    if (document.table().contains("mirror_of")) return mirror_image(document, file, std::move(outer));
    Bow bow = bow_in(document, file.parent_path());
    document.complaints().finish();
    return bow;
}

}  // namespace

Bow bow_from_toml(std::string_view text, const fs::path& file) {
    return bow_in_text(text, file, {});
}

Bow read_bow(const fs::path& file) {
    const std::optional<std::string> text = content(file);
    if (!text) throw InputError({{{file.string()}, {}, "this file cannot be read", {}}});
    return bow_from_toml(*text, file);
}

}  // namespace limbwright::models
