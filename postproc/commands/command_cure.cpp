#include "postproc/commands/command_cure.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <optional>

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

void write_sheet(const CureArguments& arguments, const models::TearAnswer& answer, const models::Cure& cure) {
    const models::SolvedTune& today = answer.solver.today();
    const models::Bow& bow = today.strung.bow.bow;
    const std::filesystem::path form = form_of(arguments.sheet);
    const std::string enter =
        fmt::format("limbwright log {} {} --bench {} --tail left --size \"5 mm\"", on_sheet(arguments.bow),
                    on_sheet(log_of(arguments)), on_sheet(form));
    const BenchSheet sheet{bow, answer.tear, answer.cures.wanted, today.tune, cure, enter};
    const Page page = lay_out(sheet);
    const bool html = arguments.sheet.extension() == ".html";
    write_whole_file(arguments.sheet, html ? page.to_html(title_of(sheet)) : page.to_svg(title_of(sheet)));
    const models::Foresight foresight = cure.foresight.value_or(models::Foresight{});
    write_whole_file(form, models::bench_form(bow, {"after: " + cure.text, {}, {}}, foresight.predicted));
    fmt::print(stderr, "The bench sheet of cure {} is in {}; fill in afterwards: {}.\n",
               arguments.pick.value_or(1), arguments.sheet.string(), form.string());
}

/// @param planned  none: no cure is
void enter(const CureArguments& arguments, const Session& session, const models::Cure* planned) {
    std::vector<models::LogEntry> entries;
    if (session.entered) entries.push_back(session.log.back());
    if (planned)
        entries.push_back(models::plan_of(*planned, session.days.back().tune, date_of(arguments.date)));
    if (entries.empty()) return;
    append_to_log(arguments.log, entries, session.bow);
    fmt::print(stderr, "{} {} entered in {}.\n", entries.size(),
               entries.size() == 1 ? "entry is" : "entries are", arguments.log.string());
}

}  // namespace

int command_cure(const CureArguments& arguments) {
    check_ending(arguments.sheet);
    const Session session = read_session(arguments);
    if (!session.tear) throw UsageError{"a tear is needed: --tear FILE, or --tail left --size \"22 mm\""};
    if (!(session.tear->size() > 0)) throw UsageError{"there is no tear to cure: its size is 0 mm"};
    const std::optional<models::KnownBow> bow = known_bow(session);
    if (!bow) return 1;
    if (bow->match)
        for (const models::Contradiction& c : bow->match->contradictions)
            fmt::print(stderr, "warning: {}\n", c.sentence);
    std::optional<models::TearAnswer> answer;
    try {
        answer = models::answer_tear(*bow, *session.tear, arguments.cure_options());
    } catch (const std::runtime_error& error) {
        fmt::print(stderr, "{} could not be strung and drawn: {}\n", session.bow.name, error.what());
        return 1;
    }
    if (arguments.json)
        fmt::print("{}\n", to_json(*answer).dump(1));
    else
        fmt::print("{}", to_text(*answer));
    const std::vector<models::Cure>& ranked = answer->cures.ranked;
    const int pick = arguments.pick || !arguments.sheet.empty() ? arguments.pick.value_or(1) : 0;
    if (pick > std::ssize(ranked)) {
        fmt::print(stderr, "there is no cure {} to write a sheet for: {} were found\n", pick, ranked.size());
        return 1;
    }
    const models::Cure* picked = pick > 0 ? &ranked[static_cast<std::size_t>(pick - 1)] : nullptr;
    if (!arguments.sheet.empty()) write_sheet(arguments, *answer, *picked);
    if (!arguments.log.empty()) enter(arguments, session, picked);
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
