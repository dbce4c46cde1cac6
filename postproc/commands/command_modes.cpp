#include "postproc/commands/command_modes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "models/bow/bow_file.hpp"
#include "postproc/commands/strung_bow.hpp"
#include "postproc/files/file_plugin.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/results/draw_files.hpp"
#include "postproc/results/mode_results.hpp"
#include "postproc/scene/mode_scenes.hpp"

namespace limbwright::postproc {
namespace {

using models::BowModes;

std::vector<std::filesystem::path> write_films(const models::StrungBow& strung,
                                               const std::vector<MotionsAt>& states,
                                               const ModesArguments& arguments) {
    const std::filesystem::path folder = arguments.folder.empty()
                                             ? std::filesystem::path(arguments.bow.stem().string() + "_modes")
                                             : arguments.folder;
    make_folder(folder);
    std::vector<std::filesystem::path> written;
    for (const MotionsAt& s : states)
        for (std::size_t i = 0; i < s.modes.lowest.size(); ++i) {
            std::string at = s.name;
            std::ranges::replace(at, ' ', '_');
            written.push_back(folder / fmt::format("{}_mode_{:02}.pvd", at, i + 1));
            file_writers().write_vtk(written.back(), mode_scenes(strung, s.state, s.modes.lowest[i]));
        }
    return written;
}

}  // namespace

int command_modes(const ModesArguments& arguments) {
    const models::Bow bow = models::read_bow(arguments.bow);
    const std::optional<models::StrungBow> strung_up = strung_or_told(bow);
    if (!strung_up) return 1;
    const models::StrungBow& strung = *strung_up;
    std::vector<MotionsAt> states;
    int status = 0;
    const auto take = [&](const char* name, const models::DrawState& state, const std::vector<int>& held) {
        auto answer = models::bow_modes(strung.bow, state.state, held, arguments.count);
        if (auto* modes = std::get_if<BowModes>(&answer)) {
            states.push_back({name, state, std::move(*modes)});
            return;
        }
        fmt::print(stderr, "no modes at {}: {}\n", name, std::get<std::string>(answer));
        status = 1;
    };
    if (arguments.at != ModesAt::full_draw) {
        models::DrawState brace;
        brace.draw = -strung.brace.state.at(strung.bow.nock[0]);
        brace.state = strung.brace.state;
        take("brace", brace, held_at_brace(strung.bow));
    }
    if (arguments.at != ModesAt::brace) {
        const models::Draw draw = models::draw(strung);
        if (draw.failure) {
            fmt::print(stderr, "{}\n", *draw.failure);
            status = 1;
        } else {
            take("full draw", draw.states.back(), held_while_drawing(strung.bow));
        }
    }
    if (states.empty()) return 1;

    if (arguments.json) {
        fmt::print("{}\n", to_json(states, bow.name).dump(1));
    } else {
        fmt::print("{}\n", bow.name);
        for (const MotionsAt& s : states)
            fmt::print("\n{}\n{}", to_text(modes_table(s)), paragraph(stability_text(s)));
        fmt::print("\n{}\n{}", to_text(masses_table(states.front().modes)),
                   paragraph(assumptions_text(states.front().modes)));
    }
    if (arguments.files) {
        std::FILE* const out = arguments.json ? stderr : stdout;
        fmt::print(out, "\nFiles:\n");
        for (const std::filesystem::path& file : write_films(strung, states, arguments))
            fmt::print(out, "  {}\n", file.string());
    }
    fmt::print(stderr, "{}", caution);
    return status;
}

}  // namespace limbwright::postproc
