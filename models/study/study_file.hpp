#pragma once

#include <filesystem>
#include <string_view>

#include "models/bow/bow.hpp"
#include "models/study/study.hpp"

/// The study file: one TOML file that names the bow's file beside it and says what a study tries and wants.
/// examples/rebuilds.toml shows every key.
namespace limbwright::models {

/// A study, checked against its bow.
struct StudyFile {
    Study study;
    std::filesystem::path bow_file;
    Bow bow;
};

/// @throws InputError with every complaint about the file, the bow's file and those that it names
[[nodiscard]] StudyFile read_study(const std::filesystem::path& file);

/// The same from text in memory.
///
/// @param file  as messages shall name it; the bow's file is looked for in its folder
[[nodiscard]] StudyFile study_from_toml(std::string_view text, const std::filesystem::path& file);

}  // namespace limbwright::models
