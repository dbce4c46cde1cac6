#pragma once

#include <string>
#include <vector>

#include "models/bow/bow.hpp"

namespace limbwright::models {

/// The bow, each of whose grooves from a file has a file's name of its own: one without a name, or with one
/// that is taken by another groove, gets one after its cam and track.
[[nodiscard]] Bow with_groove_names(const Bow& bow);

struct GrooveFile {
    std::string name;  ///< as the bow file names it
    std::string text;
};

/// The CSV files that go beside the written bow file.
[[nodiscard]] std::vector<GrooveFile> groove_files(const Bow& bow);

}  // namespace limbwright::models
