#include "postproc/commands/bench_session.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <ctime>

#include "models/bow/bow_file.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/usage_error.hpp"

namespace limbwright::postproc {
namespace {

std::optional<models::Tear> tear_of(const SessionArguments& arguments, models::Hand hand) {
    if (!arguments.tear.empty()) {
        if (!arguments.tail.empty() || arguments.size || arguments.distance)
            throw UsageError{
                "--tear names a file, which tells the tail's side, size and distance: leave out "
                "--tail, --size and --distance"};
        return models::read_tear(arguments.tear, hand);
    }
    if (arguments.tail.empty() && !arguments.size && !arguments.distance) return {};
    if (arguments.tail == "none" && !arguments.size) return models::Tear{.hand = hand, .arrow = {}};
    if (arguments.tail.empty() || !arguments.size)
        throw UsageError{"a tear is needed: --tear FILE, or --tail left --size \"25 mm\""};
    if (!(*arguments.size > 0 && *arguments.size <= 300))
        throw UsageError{
            fmt::format("--size must be above 0 mm and at most 300 mm, but is {:.4g} mm", *arguments.size)};
    std::optional<models::Tear> tear = models::tear_of(arguments.tail, *arguments.size);
    if (!tear)
        throw UsageError{
            fmt::format("--tail must be left, right, high, low, \"high left\", \"high right\", "
                        "\"low left\", \"low right\" or none, but is \"{}\"",
                        arguments.tail)};
    tear->hand = hand;
    tear->distance = arguments.distance.value_or(0);
    return tear;
}

bool same_numbers(const std::vector<models::Measurement>& a, const std::vector<models::Measurement>& b) {
    const auto near = [](double x, double y) { return std::abs(x - y) <= 1e-9 * (1 + std::abs(x)); };
    return std::ranges::equal(a, b, [&](const models::Measurement& x, const models::Measurement& y) {
        return x.quantity == y.quantity && near(x.value, y.value) && near(x.sigma, y.sigma) &&
               near(x.at.value_or(0), y.at.value_or(0));
    });
}

bool same_tear(const std::optional<models::Tear>& a, const std::optional<models::Tear>& b) {
    return a.has_value() == b.has_value() &&
           (!a || (std::abs(a->left - b->left) < 1e-6 && std::abs(a->high - b->high) < 1e-6));
}

/// The last entry that is no plan; the end if there is none.
std::vector<models::LogEntry>::const_reverse_iterator last_measured(
    const std::vector<models::LogEntry>& log) {
    return std::find_if(log.rbegin(), log.rend(), [](const models::LogEntry& e) { return !e.plan; });
}

}  // namespace

bool Session::measured() const {
    return std::ranges::any_of(days,
                               [](const models::BenchDay& day) { return !day.sheet.measurements.empty(); });
}

std::string date_of(const std::string& argument) {
    if (argument.empty()) return fmt::format("{:%Y-%m-%d %H:%M}", fmt::localtime(std::time(nullptr)));
    if (!models::is_date(argument))
        throw UsageError{fmt::format(
            "--date must be a date such as 2026-11-25 or \"2026-11-25 18:40\", but is \"{}\"", argument)};
    return argument;
}

Session read_session(const SessionArguments& arguments) {
    Session session{models::read_bow(arguments.bow), {}, false, {}, {}};
    const models::Bow& bow = session.bow;
    if (!arguments.log.empty() && std::filesystem::exists(arguments.log))
        session.log = models::read_log(arguments.log, bow);
    models::LogEntry entry{date_of(arguments.date), bow.layout, {}, {}, {}, {}, {}, {}, 0};
    entry.remark = arguments.remark;
    if (!arguments.bench.empty()) {
        models::BenchSheet sheet = models::read_bench(arguments.bench, bow);
        entry.measured = std::move(sheet.measurements);
        entry.bow_sure = std::move(sheet.bow_sure);
    }
    entry.tear = tear_of(arguments, bow.shooter.hand);
    const auto last = last_measured(session.log);
    const bool something = !entry.measured.empty() || entry.tear;
    const bool again = last != session.log.rend() && same_numbers(entry.measured, last->measured) &&
                       same_tear(entry.tear, last->tear);
    if (last != session.log.rend()) {
        session.tear = last->tear;
        entry.layout = last->layout;
    }
    if (something && !again) {
        if (!session.log.empty() && !arguments.not_rebuilt) entry.layout = session.log.back().layout;
        if (!session.log.empty() && entry.date < session.log.back().date)
            throw UsageError{fmt::format("--date {} lies before the log's last entry, {}", entry.date,
                                         session.log.back().date)};
        session.entered = true;
    }
    if (something) session.tear = entry.tear;  // with its arrow, which no log holds
    if (session.entered) session.log.push_back(std::move(entry));
    session.days = models::days_of(session.log, bow);
    if (session.days.empty()) session.days.push_back({{}, bow.layout, {}});
    return session;
}

void append_to_log(const std::filesystem::path& file, const std::vector<models::LogEntry>& entries,
                   const models::Bow& bow) {
    std::string text = std::filesystem::exists(file)
                           ? read_text(file)
                           : "# The log of " + bow.name +
                                 ". Two logs of one bow are merged by putting one after the other.\n";
    if (!text.ends_with('\n')) text += '\n';
    for (const models::LogEntry& entry : entries) text += models::to_toml(entry, bow);
    write_whole_file(file, text);
}

models::TuneSolver solver_of(const models::Corrections& today) {
    return models::TuneSolver(today.bow, 25,
                              [today](models::Bow bow) { return today.applied(std::move(bow)); });
}

}  // namespace limbwright::postproc
