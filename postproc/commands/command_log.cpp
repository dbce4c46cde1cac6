#include "postproc/commands/command_log.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "postproc/output/caution.hpp"
#include "postproc/output/usage_error.hpp"
#include "postproc/results/log_results.hpp"

namespace limbwright::postproc {
namespace {

/// What the cures were found with, to find the same ones again.
std::string parts_text(const models::CureOptions& options) {
    std::string text = options.bolts ? " --bolts" : "";
    for (const double number : options.limbs) text += fmt::format(" --limb {}", number);
    for (const models::SpacerKind& spacer : options.spacers)
        for (int i = 0; i < spacer.count; ++i) text += fmt::format(" --spacer \"{} mm\"", spacer.thickness);
    return text;
}

int print(const LogArguments& arguments, const LogResults& results) {
    if (arguments.json)
        fmt::print("{}\n", to_json(results).dump(1));
    else
        fmt::print("{}", to_text(results));
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace

int command_log(const LogArguments& arguments) {
    const Session session = read_session(arguments);
    if (session.log.empty())
        throw UsageError{
            "the log has no entries: enter some with --bench FILE or --tail left --size \"22 mm\""};
    if (session.entered) {
        append_to_log(arguments.log, {session.log.back()}, session.bow);
        fmt::print(stderr, "1 entry is entered in {}.\n", arguments.log.string());
    }
    const std::optional<models::KnownBow> bow = known_bow(session);
    if (!bow) return 1;
    LogResults results{session.bow, session.log, models::outcome_of(session.log, session.bow),
                       {},          nullptr,     {}};
    if (!bow->match) {
        results.advice.sentence = "Nothing was measured yet: enter what was with --bench FILE.";
        return print(arguments, results);
    }
    results.match = &*bow->match;
    const bool to_cure = session.tear && session.tear->size() > models::tear_gone;
    try {
        const models::Cures cures =
            to_cure ? models::find_cures(*bow, *session.tear, arguments.cure_options()) : models::Cures{};
        results.advice = models::advice(results.outcome, session.tear, *bow->match, cures.ranked);
    } catch (const std::runtime_error& error) {
        fmt::print(stderr, "{} could not be strung and drawn: {}\n", session.bow.name, error.what());
        return 1;
    }
    if (results.advice.next == models::Next::cure)
        results.command =
            fmt::format("limbwright cure {} --log {}{} --pick {} --sheet sheet.html", arguments.bow.string(),
                        arguments.log.string(), parts_text(arguments.options), results.advice.cure);
    return print(arguments, results);
}

}  // namespace limbwright::postproc
