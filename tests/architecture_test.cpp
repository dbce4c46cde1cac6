#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <utility>

/// The order of layers and units stands once, in CMakeLists.txt. These tests read it there and hold every
/// file to it.
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

const fs::path root = SOURCE_DIR;

std::string text_of(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

/// All first groups of a pattern's matches.
Words all_matches(const std::string& text, const std::string& pattern) {
    const std::regex regex(pattern);
    Words found;
    for (std::sregex_iterator it(text.begin(), text.end(), regex), end; it != end; ++it)
        found.push_back((*it)[1]);
    return found;
}

/// CMakeLists.txt without its comments.
const std::string& cmake_text() {
    static const std::string text =
        std::regex_replace(text_of(root / "CMakeLists.txt"), std::regex("#[^\n]*"), "");
    return text;
}

/// One add_layer(): its library, its folder, its units as folder/unit, bottom-up, and the libraries below it.
struct Layer {
    std::string name, folder;
    Words units, below;
};

const std::vector<Layer>& layers() {
    static const std::vector<Layer> all = [] {
        std::vector<Layer> read;
        for (const std::string& arguments : all_matches(cmake_text(), R"(\badd_layer\(([^)]*)\))")) {
            Layer layer;
            std::string key;
            std::istringstream words(arguments);
            words >> layer.folder;
            layer.name = layer.folder;
            for (std::string word; words >> word;) {
                if (word == "NAME" || word == "UNITS" || word == "ON_TOP_OF")
                    key = word;
                else if (key == "NAME")
                    layer.name = word;
                else if (key == "UNITS")
                    layer.units.push_back(layer.folder + "/" + word);
                else
                    layer.below.push_back(word);
            }
            read.push_back(layer);
        }
        return read;
    }();
    return all;
}

Words all_units() {
    Words units;
    for (const Layer& layer : layers()) units.insert(units.end(), layer.units.begin(), layer.units.end());
    return units;
}

/// The libraries that a layer may use, itself among them.
std::set<std::string> reach(const Layer& layer) {
    std::set<std::string> names{layer.name};
    for (const Layer& other : layers())
        if (std::find(layer.below.begin(), layer.below.end(), "limbwright_" + other.name) !=
            layer.below.end())
            names.merge(reach(other));
    return names;
}

/// The units that a unit may include: itself, and those above its line in its own layer and in the layers
/// under it.
std::set<std::string> allowed_for(const Layer& own, const std::string& unit) {
    const std::set<std::string> names = reach(own);
    std::set<std::string> allowed;
    for (const Layer& layer : layers()) {
        if (!names.contains(layer.name)) continue;
        for (const std::string& other : layer.units) {
            allowed.insert(other);
            if (other == unit) return allowed;
        }
    }
    return allowed;
}

/// A file's code without comments, so that a commented include does not count.
std::string code_of(const fs::path& file) {
    return std::regex_replace(text_of(file), std::regex("//[^\n]*"), "");
}

Words quoted_includes(const fs::path& file) {
    return all_matches(code_of(file), R"re(#\s*include\s*"([^"]+)")re");
}

Words all_includes(const fs::path& file) {
    return all_matches(code_of(file), R"re(#\s*include\s*[<"]([^>"]+)[>"])re");
}

/// The header of a unit and its source, if it has one.
std::vector<fs::path> files_of(const std::string& unit) {
    std::vector<fs::path> files{root / (unit + ".hpp")};
    if (fs::exists(root / (unit + ".cpp"))) files.push_back(root / (unit + ".cpp"));
    return files;
}

/// Every source and header in the layers' folders, as folder/name.ending.
std::set<std::string> files_in_layers() {
    std::set<std::string> files;
    for (const Layer& layer : layers())
        for (const auto& entry : fs::recursive_directory_iterator(root / layer.folder))
            if (entry.path().extension() == ".hpp" || entry.path().extension() == ".cpp")
                files.insert(fs::relative(entry.path(), root).generic_string());
    return files;
}

TEST(Architecture, TheLayersStandAsTheyAreMeantTo) {
    Words names;
    for (const Layer& layer : layers()) names.push_back(layer.name);
    EXPECT_EQ(names, (Words{"solver", "meshes", "meshes_files", "models", "postproc", "postproc_files"}));
    EXPECT_EQ(reach(layers()[1]), (std::set<std::string>{"solver", "meshes"}));
    EXPECT_EQ(reach(layers()[5]).size(), 5u);
}

TEST(Architecture, EveryListedUnitExistsAndIsListedOnce) {
    std::set<std::string> seen;
    for (const std::string& unit : all_units()) {
        EXPECT_TRUE(fs::exists(root / (unit + ".hpp"))) << unit << " is listed, but has no header";
        EXPECT_TRUE(seen.insert(unit).second) << unit << " is listed twice";
    }
}

TEST(Architecture, EveryFileBelongsToAListedUnitOrIsNamedInCMakeLists) {
    std::set<std::string> listed;
    for (const std::string& unit : all_units()) listed.insert({unit + ".hpp", unit + ".cpp"});
    for (const std::string& file : files_in_layers())
        EXPECT_TRUE(listed.contains(file) || cmake_text().find(file) != std::string::npos)
            << file << " stands in no add_layer list";
}

TEST(Architecture, EveryFileIncludesOnlyUnitsListedAboveItsOwn) {
    for (const Layer& layer : layers())
        for (const std::string& unit : layer.units) {
            const std::set<std::string> allowed = allowed_for(layer, unit);
            for (const fs::path& file : files_of(unit))
                for (const std::string& included : quoted_includes(file)) {
                    const std::string other = fs::path(included).replace_extension().generic_string();
                    EXPECT_TRUE(included.ends_with(".hpp") && allowed.contains(other))
                        << fs::relative(file, root).generic_string() << " includes " << included
                        << ", which does not stand above it";
                }
        }
}

/// Where a folder stands from the bottom: 0 for the solver.
std::size_t floor_of(const std::string& file) {
    std::set<std::string> seen;
    for (const Layer& layer : layers()) {
        seen.insert(layer.folder);
        if (file.starts_with(layer.folder + "/")) return seen.size() - 1;
    }
    throw std::out_of_range(file);
}

TEST(Architecture, WhatIsOpenedLateIsDefinedInTheAskersFolderOrBelow) {
    int asked = 0;
    for (const std::string& asker : files_in_layers())
        for (const std::string& symbol : all_matches(
                 code_of(root / asker), R"re((?:late_symbol|dlsym)\([^";]*(?:"[^"]*"[^";]*)?"(\w+)"\))re")) {
            ++asked;
            int defined = 0;
            for (const std::string& file : files_in_layers()) {
                const Words found =
                    all_matches(code_of(root / file), "\\b(" + symbol + R"()\([^;{}]*\)\s*\{)");
                if (found.empty()) continue;
                ++defined;
                EXPECT_LE(floor_of(file), floor_of(asker))
                    << asker << " asks for " << symbol << " of " << file;
            }
            EXPECT_EQ(defined, 1) << symbol << ", asked for by " << asker;
        }
    EXPECT_GE(asked, 3);  // the lanes' kernels, the reader of meshes, the writers of files
}

/// The sub-folder of a unit: "models/bow/sides" stands in "models/bow".
std::string room_of(const std::string& unit) {
    return fs::path(unit).parent_path().generic_string();
}

TEST(Architecture, EveryRoomStandsInOnePiece) {
    // With the order of lines, that makes rooms strictly bottom-up too.
    for (const Layer& layer : layers()) {
        std::set<std::string> left;
        std::string room;
        for (const std::string& unit : layer.units) {
            if (room_of(unit) == room) continue;
            left.insert(std::exchange(room, room_of(unit)));
            EXPECT_FALSE(left.contains(room)) << unit << " stands apart from the rest of its room";
        }
    }
}

TEST(Architecture, EverySourceIncludesItsOwnHeaderFirst) {
    // So that the compiler has seen every such header alone; headers without a source are compiled by APART
    // builds.
    for (const std::string& unit : all_units()) {
        if (!fs::exists(root / (unit + ".cpp"))) continue;
        const Words included = all_includes(root / (unit + ".cpp"));
        EXPECT_TRUE(!included.empty() && included.front() == unit + ".hpp") << unit << ".cpp";
    }
}

TEST(Architecture, EveryHeaderIsGuarded) {
    for (const std::string& unit : all_units())
        EXPECT_TRUE(text_of(root / (unit + ".hpp")).starts_with("#pragma once\n")) << unit << ".hpp";
}

TEST(Architecture, EveryUnitWithASourceHasATestOfItsName) {
    for (const std::string& unit : all_units()) {
        const bool has_source = fs::exists(root / (unit + ".cpp"));
        EXPECT_TRUE(!has_source || fs::exists(root / "tests" / (unit + "_test.cpp")))
            << unit << " has no test";
    }
}

/// Lower-case words of a text; joined_words and JoinedWords are several.
std::vector<std::pair<std::string, int>> words_with_lines(const std::string& text) {
    std::vector<std::pair<std::string, int>> words;
    std::string word;
    int line = 1;
    bool after_small = false;
    const auto end_word = [&] {
        if (!word.empty()) words.emplace_back(std::move(word), line);
        word.clear();
    };
    for (const char c : text) {
        const bool large = c >= 'A' && c <= 'Z', small = c >= 'a' && c <= 'z';
        if (!large && !small) end_word();
        if (large && after_small) end_word();
        if (large || small) word += static_cast<char>(large ? c - 'A' + 'a' : c);
        if (c == '\n') ++line;
        after_small = small;
    }
    end_word();
    return words;
}

TEST(Architecture, NoBowWordStandsInSolverOrMeshes) {
    // Words that mean something else in C++ or mechanics are left out: string, brace, grip, rest, stop,
    // guide.
    const std::set<std::string> bow_words{"bow",    "bows",    "riser",   "risers",    "limb",   "limbs",
                                          "archer", "archers", "archery", "arrow",     "arrows", "nock",
                                          "nocks",  "nocking", "draw",    "draws",     "drawn",  "cam",
                                          "cams",   "yoke",    "yokes",   "bowstring", "quiver", "shooter"};
    for (const std::string& file : files_in_layers()) {
        if (!file.starts_with("solver/") && !file.starts_with("meshes/")) continue;
        for (const auto& [word, line] : words_with_lines(text_of(root / file)))
            EXPECT_FALSE(bow_words.contains(word)) << file << ":" << line << ": " << word;
    }
}

TEST(Architecture, EveryOutsideLibraryHasItsSoleUsers) {
    const std::map<std::string, Words> sole_users{
        {"hdf5", {"postproc/files/hdf5_file"}},
        {"H5", {"postproc/files/hdf5_file"}},
        {"vtk", {"postproc/files/vtk_file", "meshes/vtk_surface"}},
        {"toml++", {"models/input/document"}},
        {"CLI/", {"postproc/commands/command_line"}},
        {"ceres/", {"models/matching/least_squares"}},
    };
    for (const std::string& file : files_in_layers())
        for (const std::string& included : all_includes(root / file)) {
            const std::string unit = fs::path(file).replace_extension().generic_string();
            for (const auto& [start, users] : sole_users) {
                const bool is_user = std::find(users.begin(), users.end(), unit) != users.end();
                EXPECT_TRUE(is_user || !included.starts_with(start)) << file << " includes " << included;
            }
        }
}

}  // namespace
