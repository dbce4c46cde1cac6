#include "models/study/layout_evaluation.hpp"

namespace limbwright::models {
namespace {

using solver::State;

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

LayoutRow row_with(const StudyBase& base, std::int64_t number, const StrungBow& strung,
                   const ShortDraw& states) {
    LayoutRow row{number, {}, trouble(strung.bow, states.draw)};
    if (!row.failure.empty()) return row;
    for (const PlacedMeasure& column : base.columns())
        row.values.push_back(value(column, strung.bow, states));
    return row;
}

}  // namespace limbwright::models
