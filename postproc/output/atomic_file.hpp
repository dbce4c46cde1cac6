#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

/// Files that are either the old one or a whole new one, whenever a run is interrupted, be it by a power cut.
namespace limbwright::postproc {

/// A file byte by byte.
///
/// @throws std::runtime_error if it cannot be read
[[nodiscard]] std::string read_text(const std::filesystem::path& file);

/// Writes a text straight to a file, for use where the folder or the file is swapped in whole afterwards.
///
/// @throws std::runtime_error if it cannot be written (no such folder, no right, disk full)
void write_text(const std::filesystem::path& file, std::string_view text);

/// Does the writing, to the path that it is given.
using WriteTo = std::function<void(const std::filesystem::path&)>;

/// Lets `write` fill a hidden temporary file beside `file`, then renames it to `file`; both
/// stand on the disk when it returns. If `write` throws, the
/// temporary file is removed, `file` stays as it was, and the exception goes on.
///
/// @throws std::runtime_error if `file` exists and is no regular file, or its folder does not exist
void write_whole_file(const std::filesystem::path& file, const WriteTo& write);

/// The same for a text.
///
/// @throws std::runtime_error if it cannot be written (no such folder, no right, disk full)
void write_whole_file(const std::filesystem::path& file, std::string_view text);

/// The same for a folder with all that is in it: `write` fills an empty temporary folder, which then takes
/// the place of `folder`. The old folder and what was in it are gone afterwards.
///
/// @throws std::runtime_error if `folder` exists and is no folder, or its parent does not exist
void write_whole_folder(const std::filesystem::path& folder, const WriteTo& write);

}  // namespace limbwright::postproc
