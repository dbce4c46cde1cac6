#include "models/tuning/bench_setup.hpp"

#include <stdexcept>

#include "models/bow/settings.hpp"

namespace limbwright::models {
namespace {

std::variant<SolvedTune, NotSolved> drawn(const Layout& layout, Stringing stringing,
                                          const DrawOptions& options) {
    if (const auto* no = std::get_if<NotStrung>(&stringing)) return NotSolved{no->reason};
    SolvedTune solved{layout, std::get<StrungBow>(std::move(stringing)), {}};
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

Brace brace_of(const StrungBow& strung) {
    const AssembledBow& bow = strung.bow;
    const solver::State& state = strung.brace.state;
    const Vec3 nock = nocking_point(bow, state);
    Brace brace = bow.bow.brace;
    brace.axle_to_axle = axle_to_axle(bow, state);
    brace.nocking_point_height = nock.z() - bow.layout.nocking_point;
    if (brace.brace_height) brace.brace_height = -nock.x();
    if (bow.axles[0].turn) brace.mark_top = cam_turn(bow, End::top, state);
    brace.mark_bottom = cam_turn(bow, End::bottom, state);
    return brace;
}

TuneSolver::TuneSolver(const Bow& bow, int states, Corrected corrected)
    : bow_(bow),
      states_(states),
      corrected_(std::move(corrected)),
      today_(solved_or_thrown(drawn(bow.layout, string_up(assembled(bow.layout)), in_states(states)))) {}

AssembledBow TuneSolver::assembled(const Layout& layout) const {
    const Bow labelled = with_layout(bow_, layout);
    return assemble(corrected_ ? corrected_(labelled) : labelled);
}

std::variant<SolvedTune, NotSolved> TuneSolver::solve(const Layout& layout, LengthRule rule) const {
    const AssembledBow bow = assembled(layout);
    DrawOptions options = in_states(states_);
    options.full_draw = today_.draw.states.back().draw;
    const bool can_re_time = bow_.brace.axle_to_axle > 0;
    if (rule == LengthRule::re_timed && can_re_time) return drawn(layout, string_up(bow), options);
    return drawn(layout, string_up(bow, today_.strung.lengths), options);
}

}  // namespace limbwright::models
