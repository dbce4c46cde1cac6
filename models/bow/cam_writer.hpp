#pragma once

#include <string>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/bow/toml_page.hpp"

namespace limbwright::models {

/// Both cams' tables; the bottom one is left out where reading makes it of the top one.
void write_cams(const Bow& bow, TomlPage& page);

struct GrooveFile {
    std::string name;  ///< as the bow file names it
    std::string text;
};

/// The CSV files that go beside the written bow file. A groove without a file name, or with one that is taken
/// by another groove, gets one after its cam and track.
[[nodiscard]] std::vector<GrooveFile> groove_files(const Bow& bow);

}  // namespace limbwright::models
