#include "models/bow/cam_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string_view>

#include "models/bow/groove_file.hpp"
#include "models/bow/upside_down_cam.hpp"

namespace limbwright::models {
namespace {

struct NamedGroove {
    std::string track;  ///< "cam.top.string"
    GrooveFile file;
};

std::optional<std::string> csv(const Track& track) {
    if (track.traced) return to_csv(*track.traced);
    if (track.support) return to_csv(*track.support);
    return {};
}

struct NamedTrack {
    std::string_view name;
    const Track* track;
};

std::vector<NamedTrack> tracks(const Cam& cam) {
    std::vector<NamedTrack> result{{"string", &cam.string}};
    if (cam.take_up) result.push_back({"take_up", &*cam.take_up});
    if (cam.let_out) result.push_back({"let_out", &*cam.let_out});
    return result;
}

void name_grooves(const Cam& cam, const std::string& key, std::vector<NamedGroove>& named) {
    for (const auto& [name, track] : tracks(cam)) {
        const std::optional<std::string> text = csv(*track);
        if (!text) continue;
        const std::string path = fmt::format("{}.{}", key, name);
        std::string file = track->traced ? track->traced->file : track->support->file;
        const bool taken = std::ranges::any_of(
            named, [&](const NamedGroove& n) { return n.file.name == file && n.file.text != *text; });
        if (file.empty() || taken) {
            file = path + ".csv";
            std::ranges::replace(file.begin(), file.end() - 4, '.', '_');
        }
        named.push_back({path, {file, *text}});
    }
}

TomlPage track_page(const Track& track, const std::string& key, const std::vector<NamedGroove>& named) {
    TomlPage page;
    page.heading(key);
    if (track.circle)
        page.key("circle", fmt::format("{{ centre = {}, radius = {} }}",
                                       lengths_text({track.circle->centre.x(), track.circle->centre.y()}),
                                       length_text(track.circle->radius)));
    const auto groove = std::ranges::find(named, key, &NamedGroove::track);
    if (groove != named.end()) page.key(track.traced ? "traced" : "support", quoted_text(groove->file.name));
    page.key("lateral", length_text(track.lateral),
             "groove's plane from the middle of the hub, positive left");
    page.key("anchor", angle_text(track.anchor),
             "direction at which the post ends the groove, from U toward V");
    return page;
}

TomlPage cam_page(const Cam& cam, const std::string& key, const std::vector<NamedGroove>& named) {
    TomlPage page;
    page.heading(key);
    page.key("hub", length_text(cam.hub), "width that fills the gap together with the spacers");
    if (cam.stop) page.key("stop", angle_text(*cam.stop), "turn from brace at which the draw stop meets");
    page.key("stop_stiffness", quantity_text(cam.stop_stiffness, units::turn_rate));
    if (cam.mass) page.key("mass", quantity_text(*cam.mass, units::mass), "with bearings, without axle");
    for (const auto& [name, track] : tracks(cam))
        page.add(track_page(*track, fmt::format("{}.{}", key, name), named));
    return page;
}

bool alike(const Cam& a, const Cam& b) {
    const std::vector<NamedTrack> of_a = tracks(a), of_b = tracks(b);
    return cam_page(a, "", {}).text() == cam_page(b, "", {}).text() &&
           std::ranges::equal(of_a, of_b, [](const NamedTrack& x, const NamedTrack& y) {
               return csv(*x.track) == csv(*y.track) &&
                      x.track->traced.has_value() == y.track->traced.has_value();
           });
}

bool bottom_is_flipped_top(const Bow& bow) {
    const CableSystem system = bow.cables.system;
    return (system == CableSystem::crossed || system == CableSystem::yoked) &&
           alike(bow.cam_bottom, flipped(bow.cam_top));
}

std::vector<NamedGroove> named_grooves(const Bow& bow) {
    std::vector<NamedGroove> named;
    name_grooves(bow.cam_top, "cam.top", named);
    if (!bottom_is_flipped_top(bow)) name_grooves(bow.cam_bottom, "cam.bottom", named);
    return named;
}

}  // namespace

void write_cams(const Bow& bow, TomlPage& page) {
    const std::vector<NamedGroove> named = named_grooves(bow);
    page.line("");
    page.line("",
              "Grooves as seen from the archer's right at brace: U toward the target, V up, from the axle,");
    page.line("", "to the cable's centre line.");
    page.add(cam_page(bow.cam_top, "cam.top", named));
    if (bottom_is_flipped_top(bow)) {
        page.line("");
        page.line("", "The bottom cam is the top cam's mirror image through the horizontal plane.");
    } else {
        page.add(cam_page(bow.cam_bottom, "cam.bottom", named));
    }
}

std::vector<GrooveFile> groove_files(const Bow& bow) {
    std::vector<GrooveFile> files;
    for (const NamedGroove& groove : named_grooves(bow))
        if (std::ranges::find(files, groove.file.name, &GrooveFile::name) == files.end())
            files.push_back(groove.file);
    return files;
}

}  // namespace limbwright::models
