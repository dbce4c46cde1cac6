#include "models/study/reference_solver.hpp"

#include <fmt/format.h>

#include "models/study/layout_evaluation.hpp"

namespace limbwright::models {

Stringing string_up(const StudyBase& base, const Layout& layout) {
    const StrungBow& today = base.today();
    const AssembledBow assembled = assemble(today.bow.bow, layout);
    return base.lengths() == LengthRule::kept ? string_up(assembled, today.lengths) : string_up(assembled);
}

LayoutRow solve_cold(const StudyBase& base, std::int64_t number) {
    return solve_cold(base, base.product().layout(number), number);
}

LayoutRow solve_cold(const StudyBase& base, const Layout& layout, std::int64_t number) {
    const Stringing answer = string_up(base, layout);
    if (const auto* no = std::get_if<NotStrung>(&answer)) return {number, {}, no->reason};
    return follow(base, std::get<StrungBow>(answer), number);
}

LayoutRow follow(const StudyBase& base, const StrungBow& strung, std::int64_t number) {
    std::vector<double> wanted{strung.brace.state.at(strung.bow.nock[0])};
    for (std::size_t k = 1; k < base.stations().size(); ++k) wanted.push_back(-*base.stations()[k].draw);
    solver::Workspace workspace(strung.bow.system);
    solver::PathOptions options;
    options.loads = {yaw_torque(strung.bow)};
    const solver::Path path = trace(strung.bow.system, strung.brace.state, strung.bow.nock[0], wanted,
                                    held_while_drawing(strung.bow), workspace, options);
    if (path.failure)
        return {number,
                {},
                fmt::format("no state was found at {:.1f} mm draw: {}, at the {}", -path.failure->tried,
                            path.failure->cause.reason,
                            strung.bow.part_of_freedom(path.failure->cause.worst_freedom))};
    ShortDraw states{{}, base.peak()};
    for (const solver::PathState& p : path.states) states.draw.states.push_back(draw_state(p));
    return row_with(base, number, strung, states);
}

}  // namespace limbwright::models
