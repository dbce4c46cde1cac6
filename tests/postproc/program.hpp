#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "models/bow/bow_writer.hpp"
#include "postproc/commands/command_line.hpp"
#include "tests/postproc/outside.hpp"
#include "tests/support/small_bow.hpp"

/// Calls of the program as from a terminal, but in this process, and bow files to call it with.
namespace limbwright::tests {

struct Called {
    int status;
    std::string output, errors;
};

/// @param words  what a person types after the program's name, one argument each
inline Called called(std::vector<std::string> words) {
    words.insert(words.begin(), "limbwright");
    std::vector<char*> arguments;
    for (std::string& word : words) arguments.push_back(word.data());
    ::testing::internal::CaptureStdout();
    ::testing::internal::CaptureStderr();
    const int status = postproc::run(static_cast<int>(arguments.size()), arguments.data());
    return {status, ::testing::internal::GetCapturedStdout(), ::testing::internal::GetCapturedStderr()};
}

inline bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

inline std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

/// @throws std::invalid_argument if the old words do not stand in the text
inline std::string replaced(std::string text, const std::string& old_words, const std::string& new_words) {
    const std::size_t place = text.find(old_words);
    if (place == std::string::npos) throw std::invalid_argument("\"" + old_words + "\" is not in the text");
    return text.replace(place, old_words.size(), new_words);
}

inline std::filesystem::path written(const std::filesystem::path& file, const std::string& text) {
    std::ofstream(file) << text;
    return file;
}

/// A folder with `small.toml` in it.
struct Bench {
    TemporaryFolder folder;
    std::string bow = written(folder / "small.toml", models::bow_to_toml(testing::small_bow())).string();

    /// The small bow's file with other words in it.
    [[nodiscard]] std::string bow_with(const std::string& old_words, const std::string& new_words) const {
        return written(folder / "other.toml", replaced(content(bow), old_words, new_words)).string();
    }
};

}  // namespace limbwright::tests
