#include "models/tune.hpp"

#include <stdexcept>

namespace limbwright::models {
namespace {

Bow with_rest_and_nock(Bow bow, const Tune& tune) {
    bow.layout = tune.layout;
    bow.shooter.rest += Vec3(0, tune.rest_lateral, tune.rest_height);
    bow.brace.nocking_point_height += tune.nocking_point;
    return bow;
}

std::variant<SolvedTune, NotSolved> drawn(const Tune& tune, Stringing stringing, const DrawOptions& options) {
    if (const auto* no = std::get_if<NotStrung>(&stringing)) return NotSolved{no->reason};
    SolvedTune solved{tune, std::get<StrungBow>(std::move(stringing)), {}};
    solved.draw = draw(solved.strung, options);
    if (solved.draw.failure) return NotSolved{*solved.draw.failure};
    return solved;
}

SolvedTune solved_or_thrown(std::variant<SolvedTune, NotSolved> answer) {
    if (const auto* no = std::get_if<NotSolved>(&answer)) throw std::runtime_error(no->reason);
    return std::get<SolvedTune>(std::move(answer));
}

DrawOptions in_states(int states) {
    DrawOptions options;
    options.states = states;
    return options;
}

}  // namespace

TuneSolver::TuneSolver(const Bow& bow, int states)
    : bow_(bow),
      states_(states),
      today_(solved_or_thrown(drawn({.layout = bow.layout}, string_up(assemble(bow)), in_states(states)))) {}

std::variant<SolvedTune, NotSolved> TuneSolver::solve(const Tune& tune, LengthRule rule) const {
    const AssembledBow assembled = assemble(with_rest_and_nock(bow_, tune));
    DrawOptions options = in_states(states_);
    options.full_draw = today_.draw.states.back().draw;
    const bool can_re_time = bow_.brace.axle_to_axle > 0;
    if (rule == LengthRule::re_timed && can_re_time) return drawn(tune, string_up(assembled), options);
    NaturalLengths lengths = today_.strung.lengths;
    lengths.string_above -= tune.nocking_point;
    lengths.string_below += tune.nocking_point;
    return drawn(tune, string_up(assembled, lengths), options);
}

}  // namespace limbwright::models
