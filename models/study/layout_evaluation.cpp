#include "models/study/layout_evaluation.hpp"

namespace limbwright::models {
namespace {

using solver::State;
using solver::VecX;

/// What makes a layout's states of no use; empty if nothing does.
std::string trouble(const AssembledBow& bow, const Draw& draw) {
    const State &brace = draw.states.front().state, &full = draw.states.back().state;
    for (const CablePart& part : bow.all_cables()) {
        if (!(bow.cable(part).tension(brace) > 0)) return "the " + part.name + " is slack at brace";
        if (bow.cable(part).path(full).off_groove)
            return "the " + part.name + " has run off the end of its groove at full draw";
    }
    return {};
}

}  // namespace

double draw_force(const AssembledBow& bow, const State& state) {
    const int freedom = bow.system.numbering().first(bow.nock[0]);
    double gradient = 0;
    solver::ElementVector g;
    for (const CablePart& part : bow.string) {
        bow.cable(part).gradient(state, g);
        const std::vector<int>& places = bow.system.plan().gather[part.element];
        for (std::size_t i = 0; i < places.size(); ++i)
            if (places[i] == freedom) gradient += g[static_cast<int>(i)];
    }
    return -gradient;
}

VecX yaw_torque(const AssembledBow& bow) {
    const solver::Numbering& n = bow.system.numbering();
    return VecX::Unit(n.size(), n.first(bow.riser.yaw));
}

LayoutRow row_with(const StudyBase& base, std::int64_t number, const StrungBow& strung,
                   const ShortDraw& states) {
    LayoutRow row{number, {}, trouble(strung.bow, states.draw)};
    if (row.failure.empty()) row.values = base.reader().read(strung, states);
    return row;
}

}  // namespace limbwright::models
