#include "models/matching/tear_answer.hpp"

#include <algorithm>

#include "models/matching/prediction_uncertainty.hpp"

namespace limbwright::models {
namespace {

Cures cures_of(const KnownBow& bow, const TuneSolver& solver, const Tear& tear, const CureOptions& options) {
    Cures cures = find_cures(solver, tear, options);
    if (!bow.match) return cures;
    return with_foresight(std::move(cures), solver, bow.match->today, bow.measured, options.threads);
}

std::optional<ShaftCheck> shaft_of(const SolvedTune& today, const Tear& tear) {
    if (!tear.arrow) return {};
    return check_shaft(*tear.arrow, today.draw.peak().force);
}

}  // namespace

TuneSolver KnownBow::solver() const {
    constexpr int states = 25;
    if (!match) return TuneSolver(bow, states);
    const Corrections& today = match->today;
    return TuneSolver(today.bow, states,
                      [today](Bow labelled) { return today.applied(std::move(labelled)); });
}

std::variant<KnownBow, NotMatched> known_bow(const Bow& bow, const std::vector<BenchDay>& days) {
    const BenchDay& today = days.back();
    KnownBow known{with_tune(bow, today.tune), {}, today.record.measurements};
    if (std::ranges::all_of(days, [](const BenchDay& day) { return day.record.measurements.empty(); }))
        return known;
    std::variant<Match, NotMatched> answer = match(bow, days);
    if (auto* lost = std::get_if<NotMatched>(&answer)) return std::move(*lost);
    known.match = std::get<Match>(std::move(answer));
    return known;
}

Cures find_cures(const KnownBow& bow, const Tear& tear, const CureOptions& options) {
    return cures_of(bow, bow.solver(), tear, options);
}

TearAnswer answer_tear(const KnownBow& bow, const Tear& tear, const CureOptions& options) {
    const TuneSolver solver = bow.solver();
    return {solver, tear, shaft_of(solver.today(), tear), check_practice(solver, tear),
            cures_of(bow, solver, tear, options)};
}

TearAnswer answer_tear(const TuneSolver& solver, const Tear& tear, const CureOptions& options) {
    return {solver, tear, shaft_of(solver.today(), tear), check_practice(solver, tear),
            find_cures(solver, tear, options)};
}

}  // namespace limbwright::models
