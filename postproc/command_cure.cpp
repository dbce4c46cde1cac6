#include "postproc/command_cure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "models/bow_file.hpp"
#include "postproc/bench_sheet.hpp"
#include "postproc/caution.hpp"
#include "postproc/cure_results.hpp"
#include "postproc/safe_file.hpp"
#include "postproc/usage_error.hpp"

namespace limbwright::postproc {
namespace {

models::Tear tear_of(const CureArguments& arguments, models::Hand hand) {
    if (!arguments.tear.empty()) {
        if (!arguments.tail.empty() || arguments.size || arguments.distance)
            throw UsageError{
                "--tear names a file, which tells the tail's side, size and distance: leave out "
                "--tail, --size and --distance"};
        return models::read_tear(arguments.tear, hand);
    }
    if (arguments.tail.empty() || !arguments.size)
        throw UsageError{"a tear is needed: --tear FILE, or --tail left --size \"25 mm\""};
    if (!(*arguments.size > 0 && *arguments.size <= 300))
        throw UsageError{
            fmt::format("--size must be above 0 mm and at most 300 mm, but is {:.4g} mm", *arguments.size)};
    std::optional<models::Tear> tear = models::tear_of(arguments.tail, *arguments.size);
    if (!tear)
        throw UsageError{
            fmt::format("--tail must be left, right, high, low, \"high left\", \"high right\", "
                        "\"low left\" or \"low right\", but is \"{}\"",
                        arguments.tail)};
    tear->hand = hand;
    tear->distance = arguments.distance.value_or(0);
    return *tear;
}

/// @throws UsageError for a file of another kind
void write_sheet(const CureArguments& arguments, const CureResults& results) {
    const models::SolvedTune& today = results.solver.today();
    const models::Cure& cure = results.cures.ranked[static_cast<std::size_t>(arguments.pick - 1)];
    const BenchSheet sheet{today.strung.bow.bow, results.tear, results.cures.wanted, today.tune, cure};
    const Page page = lay_out(sheet);
    const bool html = arguments.sheet.extension() == ".html";
    write_whole_file(arguments.sheet, html ? page.to_html(title_of(sheet)) : page.to_svg(title_of(sheet)));
    fmt::print(stderr, "The bench sheet of cure {} is in {}.\n", arguments.pick, arguments.sheet.string());
}

}  // namespace

int command_cure(const CureArguments& arguments) {
    const std::filesystem::path ending = arguments.sheet.extension();
    if (!arguments.sheet.empty() && ending != ".svg" && ending != ".html")
        throw UsageError{
            fmt::format("--sheet must end in .svg or .html, but is {}", arguments.sheet.string())};
    const models::Bow bow = models::read_bow(arguments.bow);
    const models::Tear tear = tear_of(arguments, bow.shooter.hand);
    std::optional<models::TuneSolver> solver;
    try {
        solver.emplace(bow);
    } catch (const std::runtime_error& error) {
        fmt::print(stderr, "{} could not be strung and drawn: {}\n", bow.name, error.what());
        return 1;
    }
    CureResults results{*solver,
                        tear,
                        {},
                        models::check_practice(*solver, tear),
                        models::find_cures(*solver, tear, arguments.options)};
    const auto& states = solver->today().draw.states;
    if (tear.arrow)
        results.shaft = models::check_shaft(
            *tear.arrow, std::ranges::max_element(states, {}, &models::DrawState::force)->force);
    if (arguments.json)
        fmt::print("{}\n", to_json(results).dump(1));
    else
        fmt::print("{}", to_text(results));
    const auto count = static_cast<int>(results.cures.ranked.size());
    if (!arguments.sheet.empty()) {
        if (arguments.pick > count) {
            fmt::print(stderr, "there is no cure {} to write a sheet for: {} were found\n", arguments.pick,
                       count);
            return 1;
        }
        write_sheet(arguments, results);
    }
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
