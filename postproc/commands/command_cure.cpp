#include "postproc/commands/command_cure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "models/matching/prediction_uncertainty.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/usage_error.hpp"
#include "postproc/report/bench_sheet.hpp"
#include "postproc/results/cure_results.hpp"

namespace limbwright::postproc {
namespace {

/// @throws UsageError for a file of another kind
void check_ending(const std::filesystem::path& sheet) {
    if (!sheet.empty() && sheet.extension() != ".svg" && sheet.extension() != ".html")
        throw UsageError{fmt::format("--sheet must end in .svg or .html, but is {}", sheet.string())};
}

/// Beside a sheet: what is measured after the rebuild, to be filled in.
std::filesystem::path form_of(const std::filesystem::path& sheet) {
    return sheet.parent_path() / (sheet.stem().string() + "_after.toml");
}

/// A log's name for people, where none is used yet.
std::filesystem::path log_of(const CureArguments& arguments) {
    return arguments.log.empty() ? arguments.bow.parent_path() / (arguments.bow.stem().string() + "_log.toml")
                                 : arguments.log;
}

/// As typed, but where that would not fit a sheet's line.
std::string on_sheet(const std::filesystem::path& file) {
    constexpr std::size_t longest = 60;
    return file.string().size() <= longest ? file.string() : file.filename().string();
}

void write_sheet(const CureArguments& arguments, const CureResults& results, const models::Cure& cure,
                 const std::vector<models::Measurement>& expected) {
    const models::SolvedTune& today = results.solver.today();
    const models::Bow& bow = today.strung.bow.bow;
    const std::filesystem::path form = form_of(arguments.sheet);
    const std::string enter =
        fmt::format("limbwright log {} {} --bench {} --tail left --size \"5 mm\"", on_sheet(arguments.bow),
                    on_sheet(log_of(arguments)), on_sheet(form));
    const BenchSheet sheet{bow, results.tear, results.cures.wanted, today.layout, cure, enter};
    const Page page = lay_out(sheet);
    const bool html = arguments.sheet.extension() == ".html";
    write_whole_file(arguments.sheet, html ? page.to_html(title_of(sheet)) : page.to_svg(title_of(sheet)));
    write_whole_file(form, models::bench_form(bow, {"after: " + cure.text, {}, {}}, expected));
    fmt::print(stderr, "The bench sheet of cure {} is in {}; fill in afterwards: {}.\n",
               arguments.pick.value_or(1), arguments.sheet.string(), form.string());
}

void enter(const CureArguments& arguments, const Session& session, const CureResults& results, int pick) {
    std::vector<models::LogEntry> entries;
    if (session.entered) entries.push_back(session.log.back());
    if (pick > 0) {
        const auto place = static_cast<std::size_t>(pick - 1);
        const models::Cure& cure = results.cures.ranked[place];
        models::LogEntry plan;
        plan.date = date_of(arguments.date);
        plan.layout = cure.layout;
        const auto share = [](double value) { return std::round(1000 * value) / 1000; };
        plan.plan = {cure.text, share(cure.answered), share(cure.answered_sigma.value_or(0)), {}};
        if (place < results.foresights.size()) plan.plan->predicted = results.foresights[place].predicted;
        entries.push_back(std::move(plan));
    }
    if (entries.empty()) return;
    append_to_log(arguments.log, entries, session.bow);
    fmt::print(stderr, "{} {} entered in {}.\n", entries.size(),
               entries.size() == 1 ? "entry is" : "entries are", arguments.log.string());
}

}  // namespace

int command_cure(const CureArguments& arguments) {
    check_ending(arguments.sheet);
    const Session session = read_session(arguments);
    if (!session.tear) throw UsageError{"a tear is needed: --tear FILE, or --tail left --size \"25 mm\""};
    if (!(session.tear->size() > 0)) throw UsageError{"there is no tear to cure: its size is 0 mm"};
    const models::Tear& tear = *session.tear;
    const models::Bow today = models::with_layout(session.bow, session.days.back().layout);
    std::optional<models::Corrections> matched;
    if (session.measured()) {
        auto answer = models::match(session.bow, session.days);
        if (const auto* lost = std::get_if<models::NotMatched>(&answer)) {
            fmt::print(stderr, "{} could not be matched: {}\n", session.bow.name, lost->reason);
            return 1;
        }
        const auto& match = std::get<models::Match>(answer);
        for (const std::string& warning : match.warnings) fmt::print(stderr, "warning: {}\n", warning);
        for (const models::Contradiction& c : match.contradictions)
            fmt::print(stderr, "warning: {}\n", c.sentence);
        matched = match.today;
    }
    std::optional<models::TuneSolver> solver;
    try {
        solver.emplace(matched ? solver_of(*matched) : models::TuneSolver(today));
    } catch (const std::runtime_error& error) {
        fmt::print(stderr, "{} could not be strung and drawn: {}\n", today.name, error.what());
        return 1;
    }
    CureResults results{*solver,
                        tear,
                        {},
                        models::check_practice(*solver, tear),
                        models::find_cures(*solver, tear, arguments.options),
                        {}};
    if (matched)
        results.foresights =
            models::tell_sureness(results.cures, *solver, *matched, session.days.back().sheet.measurements);
    const auto& states = solver->today().draw.states;
    if (tear.arrow)
        results.shaft = models::check_shaft(
            *tear.arrow, std::ranges::max_element(states, {}, &models::DrawState::force)->force);
    if (arguments.json)
        fmt::print("{}\n", to_json(results).dump(1));
    else
        fmt::print("{}", to_text(results));
    const auto count = static_cast<int>(results.cures.ranked.size());
    const int pick = arguments.pick || !arguments.sheet.empty() ? arguments.pick.value_or(1) : 0;
    if (pick > count) {
        fmt::print(stderr, "there is no cure {} to write a sheet for: {} were found\n", pick, count);
        return 1;
    }
    if (!arguments.sheet.empty()) {
        const auto place = static_cast<std::size_t>(pick - 1);
        write_sheet(arguments, results, results.cures.ranked[place],
                    place < results.foresights.size() ? results.foresights[place].predicted
                                                      : std::vector<models::Measurement>{});
    }
    if (!arguments.log.empty()) enter(arguments, session, results, pick);
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
