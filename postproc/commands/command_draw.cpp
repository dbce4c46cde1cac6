#include "postproc/commands/command_draw.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <nlohmann/json.hpp>

#include "models/bow/bow_file.hpp"
#include "models/input/units.hpp"
#include "postproc/commands/strung_bow.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/usage_error.hpp"
#include "postproc/results/draw_files.hpp"
#include "postproc/results/draw_results.hpp"

namespace limbwright::postproc {
namespace {

using models::units::inch;

/// Everything a draw leaves on disk; returns what was written, for the person.
std::vector<std::filesystem::path> write_files(const MeasuredDraw& draw, const DrawArguments& arguments) {
    const std::string stem = arguments.bow.stem().string();
    const std::filesystem::path folder =
        arguments.folder.empty() ? std::filesystem::path(stem + "_draw") : arguments.folder;
    make_folder(folder);
    return write_draw_files(draw, folder, stem, read_text(arguments.bow));
}

/// How far a let-down ends from where the draw began.
std::string let_down_report(const models::StrungBow& strung, const models::Draw& draw) {
    const models::Draw back = models::let_down(strung, draw);
    if (back.failure) return "Let-down: " + *back.failure;
    const solver::State &begin = draw.states.front().state, &end = back.states.back().state;
    double farthest = 0;
    for (std::size_t i = 0; i < begin.nodes.size(); ++i)
        farthest = std::max(farthest, (begin.nodes[i].position - end.nodes[i].position).norm());
    return fmt::format("Let down to brace: the farthest section is {:.1e} mm from where it began.", farthest);
}

double seconds_since(std::chrono::steady_clock::time_point begin) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

/// Size of the model and time of its solution.
std::string cost_report(const solver::System& system, const models::Draw& draw, double string_seconds,
                        double draw_seconds) {
    int iterations = 0;
    for (const models::DrawState& state : draw.states) iterations += state.iterations;
    const solver::Plan& plan = system.plan();
    return fmt::format(
        "{} elements, {} free numbers; the factor holds {} blocks of 6 by 6, {:.2f} times those of the "
        "elements\n"
        "strung in {:.2f} s; drawn in {:.2f} s, {} iterations, {:.2f} ms each\n",
        system.elements().size(), system.numbering().used(), plan.blocks, plan.fill(), string_seconds,
        draw_seconds, iterations, 1e3 * draw_seconds / std::max(1, iterations));
}

/// Natural lengths in the bow file's words, for keeping string and cables through a rebuild.
std::string lengths_text(const models::NaturalLengths& lengths) {
    std::string cables;
    for (const double length : lengths.cables)
        cables += (cables.empty() ? "\"" : ", \"") + fmt::format("{:.4f} mm\"", length);
    return fmt::format(
        "Natural lengths without the layout's twists; in [cables] they keep string and cables through a "
        "rebuild:\n"
        "  string_above = \"{:.4f} mm\"\n  string_below = \"{:.4f} mm\"\n  natural_lengths = [{}]\n",
        lengths.string_above, lengths.string_below, cables);
}

/// What a person should know of a draw besides its numbers: the draw's own warnings, parts past their limits,
/// and settings that had no effect.
std::vector<std::string> warnings_about(const MeasuredDraw& results) {
    std::vector<std::string> warnings = results.draw.warnings;
    for (std::size_t i = 0; i < results.measures.size(); ++i) {
        const models::Measure& m = results.measures[i];
        const auto [least, largest] = std::minmax_element(results.values[i].begin(), results.values[i].end());
        if (*largest > m.at_most)
            warnings.push_back(fmt::format("{} reaches {:.0f} % of the allowable", m.name, *largest));
        if (*least < m.at_least)
            warnings.push_back(
                fmt::format("a cable comes {:.1f} mm too near the arrow's vanes", m.at_least - *least));
    }
    const models::AssembledBow& bow = results.strung.bow;
    const models::Layout& layout = bow.layout;
    const bool twisted = layout.twist_string != 0 || layout.twist_cables != std::array<double, 2>{0, 0};
    if (twisted && !bow.bow.cables.string_above)
        warnings.push_back(
            "[layout] twists of string and cables change nothing while their lengths are solved from "
            "[brace]: give natural lengths in [cables] to see what twists do");
    return warnings;
}

}  // namespace

int command_draw(const DrawArguments& arguments) {
    models::Bow bow = models::read_bow(arguments.bow);
    if (arguments.draw_length) {
        const double shortest = bow.brace.brace_height.value_or(0) + models::draw_length_beyond_pivot,
                     longest = 1000;
        if (!(*arguments.draw_length > shortest && *arguments.draw_length <= longest))
            throw UsageError{fmt::format(
                "--draw-length must lie between {:.1f} in, which is brace, and {:.1f} in, but is {:.4g} in",
                shortest / inch, longest / inch, *arguments.draw_length / inch)};
        bow.shooter.draw_length = arguments.draw_length;
    }
    if (arguments.states) bow.shooter.states = *arguments.states;
    const auto begin = std::chrono::steady_clock::now();
    const std::optional<models::StrungBow> strung_up = strung_or_told(bow);
    if (!strung_up) return 1;
    const models::StrungBow& strung = *strung_up;
    const double strung_after = seconds_since(begin);
    const models::Draw draw = models::draw(strung);
    fmt::print(stderr, "{}",
               cost_report(strung.bow.system, draw, strung_after, seconds_since(begin) - strung_after));
    if (draw.failure) fmt::print(stderr, "{}\n", *draw.failure);
    if (draw.states.empty()) return 1;

    const MeasuredDraw results = measured(strung, draw);
    for (const std::string& warning : warnings_about(results)) fmt::print(stderr, "warning: {}\n", warning);
    if (arguments.json) {
        fmt::print("{}\n", to_json(results).dump(1));
    } else {
        fmt::print("{}\n\n{}\n{}\n{}", bow.name, to_text(course_table(results)), to_text(draw_table(results)),
                   to_text(state_table(results)));
        fmt::print("\n{}", lengths_text(strung.lengths));
    }
    if (arguments.let_down)
        fmt::print(arguments.json ? stderr : stdout, "\n{}\n", let_down_report(strung, draw));
    if (arguments.files) {
        std::FILE* const out = arguments.json ? stderr : stdout;
        fmt::print(out, "\nFiles:\n");
        for (const std::filesystem::path& file : write_files(results, arguments))
            fmt::print(out, "  {}\n", file.string());
    }
    fmt::print(stderr, "{}", caution);
    return draw.failure ? 1 : 0;
}

}  // namespace limbwright::postproc
