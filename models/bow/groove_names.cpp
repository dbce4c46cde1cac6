#include "models/bow/groove_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "models/bow/groove_file.hpp"
#include "models/bow/upside_down_cam.hpp"

namespace limbwright::models {
namespace {

/// The file of a groove; none where it comes from no file.
std::optional<GrooveFile> csv(const Track& track) {
    if (track.traced) return GrooveFile{track.traced->file, to_csv(*track.traced)};
    if (track.support) return GrooveFile{track.support->file, to_csv(*track.support)};
    return {};
}

/// Grooves under the names of their tracks: "cam_top_string". A bottom cam that follows from the top one has
/// none.
std::vector<std::pair<std::string, Track*>> tracks(Bow& bow) {
    std::vector<std::pair<std::string, Track*>> all;
    const auto add = [&](Cam& cam, const std::string& name) {
        all.emplace_back(name + "_string", &cam.string);
        if (cam.take_up) all.emplace_back(name + "_take_up", &*cam.take_up);
        if (cam.let_out) all.emplace_back(name + "_let_out", &*cam.let_out);
    };
    add(bow.cam_top, "cam_top");
    if (!is_upside_down(bow.cam_bottom, bow.cam_top)) add(bow.cam_bottom, "cam_bottom");
    return all;
}

}  // namespace

Bow with_groove_names(const Bow& bow) {
    Bow named = bow;
    std::vector<GrooveFile> files;
    for (const auto& [name, track] : tracks(named)) {
        std::optional<GrooveFile> file = csv(*track);
        if (!file) continue;
        const bool taken = std::ranges::any_of(
            files, [&](const GrooveFile& f) { return f.name == file->name && f.text != file->text; });
        if (file->name.empty() || taken) file->name = name + ".csv";
        (track->traced ? track->traced->file : track->support->file) = file->name;
        files.push_back(*std::move(file));
    }
    return named;
}

std::vector<GrooveFile> groove_files(const Bow& bow) {
    Bow named = with_groove_names(bow);
    std::vector<GrooveFile> files;
    for (const auto& [name, track] : tracks(named))
        if (const std::optional<GrooveFile> file = csv(*track);
            file && std::ranges::find(files, file->name, &GrooveFile::name) == files.end())
            files.push_back(*file);
    return files;
}

}  // namespace limbwright::models
