#pragma once

#include <filesystem>
#include <string_view>

#include "models/bow/bow.hpp"
#include "models/bow/bow_writer.hpp"
#include "models/input/input_error.hpp"

/// The bow file: one TOML file per bow, with traced grooves beside it as CSV.
namespace limbwright::models {

/// @throws InputError with every complaint about the file and those that it names
[[nodiscard]] Bow read_bow(const std::filesystem::path& file);

/// The same from text in memory.
///
/// @param file  as messages shall name it; files named in the text are looked for in its folder
[[nodiscard]] Bow bow_from_toml(std::string_view text, const std::filesystem::path& file);

}  // namespace limbwright::models
