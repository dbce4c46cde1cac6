#include "models/study/recorded_measures.hpp"

#include <algorithm>
#include <stdexcept>

namespace limbwright::models {
namespace {

template <class Measures>
const auto* named(const Measures& measures, const std::string& name) {
    const auto found =
        std::find_if(measures.begin(), measures.end(), [&](const auto& m) { return m.name == name; });
    return found == measures.end() ? nullptr : &*found;
}

constexpr std::string_view forgiveness = "forgiveness, ";

}  // namespace

std::vector<RecordedMeasure> columns_of(const Study& study, const AssembledBow& bow) {
    const std::vector<StateMeasure> states = state_measures(bow);
    const std::vector<DrawMeasure> whole = draw_measures();
    std::vector<RecordedMeasure> columns;
    const auto add = [&](const std::string& name, DrawPlace at) {
        std::string unit;
        if (at == DrawPlace::whole) {
            const DrawMeasure* m = named(whole, name);
            if (!m) return;
            unit = m->unit;
        } else {
            const StateMeasure* m = named(states, name);
            if (!m) return;  // not of this bow: an idler does not turn
            unit = m->unit;
        }
        const RecordedMeasure column{name, unit, at};
        if (std::find(columns.begin(), columns.end(), column) == columns.end()) columns.push_back(column);
    };
    for (const char* name :
         {"axle-to-axle", "brace height", "straightedge gap, top", "straightedge gap, bottom"})
        add(name, DrawPlace::whole);
    for (const DrawPlace at : {DrawPlace::brace, DrawPlace::full_draw})
        for (const char* name : {"cam lean, top", "cam lean, bottom"}) add(name, at);
    add("draw force", DrawPlace::peak);
    for (const char* name :
         {"draw force", "cam toe, top", "cam toe, bottom", "nock travel, lateral", "nock travel, vertical",
          "timing, turns", "forgiveness, arrow yaw", "forgiveness, nock travel"})
        add(name, DrawPlace::full_draw);
    const auto add_quantity = [&](const Quantity& q) {
        add(q.measure, q.at);
        if (!q.less.empty()) add(q.less, q.at);
    };
    for (const Aim& aim : study.aims) add_quantity(aim.quantity);
    for (const Limit& limit : study.limits) add_quantity(limit.quantity);
    return columns;
}

ColumnReader::ColumnReader(const std::vector<RecordedMeasure>& columns, const AssembledBow& bow) {
    const std::vector<StateMeasure> states = state_measures(bow);
    const std::vector<DrawMeasure> whole = draw_measures();
    for (const RecordedMeasure& column : columns) {
        Source source{column.at, {}, {}, column.measure.starts_with(forgiveness)};
        if (column.at == DrawPlace::whole) {
            const DrawMeasure* m = named(whole, column.measure);
            if (!m) throw std::invalid_argument("no measure of a draw is called " + column.measure);
            source.draw = m->value;
            meanings_.push_back({m->definition, m->digits});
        } else {
            const StateMeasure* m = named(states, column.measure);
            if (!m) throw std::invalid_argument("no measure of a state is called " + column.measure);
            source.state = m->value;
            meanings_.push_back({m->definition, m->digits});
        }
        needs_energy_ |= column.measure == "stored energy";
        sources_.push_back(std::move(source));
    }
}

bool ColumnReader::needs_yaw_torque_effect(DrawPlace place) const {
    return std::any_of(sources_.begin(), sources_.end(), [&](const Source& s) {
        // Of a whole draw it is the last state's.
        return s.yaw && (s.at == place || (s.at == DrawPlace::whole && place == DrawPlace::full_draw));
    });
}

std::vector<double> ColumnReader::read(const StrungBow& strung, const ShortDraw& states) const {
    std::vector<double> values;
    values.reserve(sources_.size());
    for (const Source& source : sources_) {
        if (source.draw) {
            values.push_back(source.draw(strung, states.draw));
            continue;
        }
        const std::size_t i = source.at == DrawPlace::brace  ? 0
                              : source.at == DrawPlace::peak ? states.peak
                                                             : states.draw.states.size() - 1;
        values.push_back(source.state({strung.bow, states.draw, i, 0}));
    }
    return values;
}

}  // namespace limbwright::models
