#include "models/matching/outcome_and_advice.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace limbwright::models {
namespace {

constexpr double enough = 0.9;      // share answered
constexpr double unsure = 0.5;      // its standard deviation
constexpr double worth_more = 0.8;  // of that, what is left once something more is measured

/// The last tear of a layout that was measured before an entry.
const Tear* tear_before(const std::vector<LogEntry>& log, std::size_t place) {
    for (std::size_t i = place; i-- > 0;)
        if (log[i].tear && !log[i].plan) return &*log[i].tear;
    return nullptr;
}

/// Share of a tear that is gone, along the tear as it was.
Compared tear_compared(const Plan& plan, const Tear& before, const Tear& after) {
    const double size = before.size();
    const double left = (after.left * before.left + after.high * before.high) / size;
    return {"tear answered",
            {},
            nullptr,
            plan.answered,
            plan.sure,
            1 - left / size,
            std::hypot(tear_sigma / size, tear_sigma * left / (size * size))};
}

}  // namespace

double Compared::sigmas() const {
    return (measured - predicted) / std::hypot(predicted_sigma, measured_sigma);
}
bool Compared::within() const {
    return std::abs(sigmas()) <= 2;
}
bool Compared::contradicts() const {
    return std::abs(sigmas()) > match_limits::contradiction;
}

Outcome outcome_of(const std::vector<LogEntry>& log, const Bow& bow) {
    Outcome outcome;
    std::size_t last = log.size();
    while (last > 0 && log[last - 1].plan) --last;
    if (last == 0) return outcome;
    const LogEntry& after = log[last - 1];
    if (last < 2 || !log[last - 2].plan || !same_layout(bow, log[last - 2].layout, after.layout))
        return outcome;
    outcome.plan = &log[last - 2];
    const std::vector<BenchQuantity> quantities = bench_quantities(bow);
    for (const Measurement& m : after.measured)
        for (const Measurement& p : outcome.plan->plan->predicted)
            if (p.quantity == m.quantity && p.at.has_value() == m.at.has_value() &&
                (!p.at || std::abs(*p.at - *m.at) < 1)) {
                const BenchQuantity& q = *find(quantities, m.quantity);
                outcome.numbers.push_back({q.name, m.at, q.dimension, p.value, p.sigma, m.value, m.sigma});
                break;
            }
    const Tear* before = tear_before(log, last - 1);
    if (before && before->size() > 0 && after.tear)
        outcome.tear = tear_compared(*outcome.plan->plan, *before, *after.tear);
    return outcome;
}

Advice advice(const Outcome& outcome, const std::optional<Tear>& tear, const Match& match,
              const std::vector<Cure>& cures, const std::vector<Foresight>& foresights) {
    if (tear && tear->size() <= tear_gone)
        return {Next::stop,
                fmt::format(
                    "The tear of {:.3g} mm is gone as far as paper tells (up to {:.0f} mm): stop here, and "
                    "shoot at distance.",
                    tear->size(), tear_gone),
                0};
    std::vector<std::string> against;
    for (const Contradiction& c : match.contradictions) against.push_back(c.sentence);
    for (const Compared& c : outcome.numbers)
        if (c.contradicts())
            against.push_back(fmt::format("{} came out {:.1f} standard deviations from the prediction.",
                                          c.name, std::abs(c.sigmas())));
    if (outcome.tear && outcome.tear->contradicts())
        against.push_back(fmt::format(
            "Of the tear {:.0f} % is gone, but {:.0f} % were predicted, {:.1f} "
            "standard deviations apart: something that the model does not see tears "
            "along, or the rebuild is not as planned.",
            100 * outcome.tear->measured, 100 * outcome.tear->predicted, std::abs(outcome.tear->sigmas())));
    if (!against.empty())
        return {Next::contradiction,
                fmt::format("Model and bow contradict each other; check this before you change anything: {}",
                            fmt::join(against, " ")),
                0};
    if (!tear)
        return {Next::measure, "No tear is known of this layout: shoot through paper and enter it.", 0};
    if (cures.empty())
        return {Next::measure, "No change within reach answers this tear: look at release, hand and arrow.",
                0};
    auto best = std::ranges::find_if(cures, [](const Cure& c) { return c.answered >= enough; });
    if (best == cures.end()) best = std::ranges::max_element(cures, {}, &Cure::answered);
    const auto place = static_cast<std::size_t>(best - cures.begin());
    const double sure = best->answered_sigma.value_or(0);
    if (place < foresights.size() && sure > unsure && !foresights[place].measure_first.empty() &&
        foresights[place].sure_then < worth_more * sure)
        return {
            Next::measure,
            fmt::format("Cure {} ({}) would answer {:.0f} ± {:.0f} % of the tear: too unsure to rebuild for. "
                        "Measure first: {}; that makes it ± {:.0f} %.",
                        place + 1, best->text, 100 * best->answered, 100 * sure,
                        foresights[place].measure_first, 100 * foresights[place].sure_then),
            static_cast<int>(place + 1)};
    return {Next::cure,
            fmt::format("Next: cure {}, {}; it answers {:.0f} ± {:.0f} % of the tear.", place + 1, best->text,
                        100 * best->answered, 100 * sure),
            static_cast<int>(place + 1)};
}

}  // namespace limbwright::models
