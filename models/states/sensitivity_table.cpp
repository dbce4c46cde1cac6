#include "models/states/sensitivity_table.hpp"

#include <algorithm>

#include "models/states/state_sensitivity.hpp"

namespace limbwright::models {
namespace {

using solver::State;
using solver::VecX;

/// Of the numerics, or zero by definition in the states looked at.
bool is_left_out(const std::string& measure) {
    static const std::vector<std::string> names{"work",
                                                "energy error",
                                                "residual",
                                                "iterations",
                                                "negative pivots",
                                                "nock departure, lateral",
                                                "nock departure, vertical"};
    return std::find(names.begin(), names.end(), measure) != names.end();
}

/// What three states tell of the whole draw.
bool is_of_three_states(const DrawMeasure& measure) {
    static const std::vector<std::string> names{"axle-to-axle",
                                                "brace height",
                                                "nocking-point height",
                                                "straightedge gap, top",
                                                "straightedge gap, bottom",
                                                "peak weight",
                                                "peak weight, pounds",
                                                "holding weight",
                                                "holding weight, pounds",
                                                "let-off"};
    return std::find(names.begin(), names.end(), measure.name) != names.end();
}

const State& peak_of(const Draw& draw) {
    return std::ranges::max_element(draw.states, {}, &DrawState::force)->state;
}

class Effects {
public:
    Effects(const StrungBow& strung, const Draw& today, LengthRule rule)
        : strung_(strung),
          sensitivity_(strung, {peak_of(today), today.states.back().state}, rule),
          measures_(state_measures(strung.bow)),
          draw_measures_(draw_measures()) {
        std::erase_if(measures_, [](const StateMeasure& m) { return is_left_out(m.name); });
        std::erase_if(draw_measures_, [](const DrawMeasure& m) { return !is_of_three_states(m); });
    }

    /// Rows without changes yet.
    std::vector<Effect> rows() {
        std::vector<Effect> rows;
        for (const DrawPlace place : {DrawPlace::brace, DrawPlace::peak, DrawPlace::full_draw})
            for (const StateMeasure& m : measures_)
                rows.push_back({m.name, m.unit, m.definition, m.digits, place, 0, {}});
        for (const DrawMeasure& m : draw_measures_)
            rows.push_back({m.name, m.unit, m.definition, m.digits, DrawPlace::whole, 0, {}});
        const std::vector<double> values = values_of(sensitivity_.today());
        for (std::size_t i = 0; i < rows.size(); ++i) rows[i].today = values[i];
        return rows;
    }

    /// Changes of all rows for one practical step.
    std::vector<double> changes(const Setting& setting) {
        const auto rebuilt = [&](double change) {
            Layout layout = strung_.bow.layout;
            setting.set(layout, setting.get(layout) + change);
            return rebuilt_from(strung_, assemble(strung_.bow.bow, layout), strung_.lengths);
        };
        const StateSlopes slopes = sensitivity_.by(rebuilt, derivative_share * setting.step);
        std::vector<double> change = values_of(slopes.more);
        const std::vector<double> before = values_of(slopes.less);
        for (std::size_t i = 0; i < change.size(); ++i)
            change[i] = (change[i] - before[i]) / (2 * derivative_share);
        return change;
    }

private:
    std::vector<double> values_of(const BowStates& known) const {
        const AssembledBow& bow = known.strung.bow;
        const solver::Numbering& n = bow.system.numbering();
        Draw draw;
        for (std::size_t i = 0; i < known.states.size(); ++i) {
            const solver::FactoredState drawn(known.systems[i], known.states[i], held_while_drawing(bow));
            DrawState& s = draw.states.emplace_back();
            s.state = known.states[i];
            s.draw = -s.state.at(bow.nock[0]);
            s.force = -drawn.gradient()[n.first(bow.nock[0])];
            s.energy = total_energy(known.systems[i], s.state);
            s.yaw_torque_effect = drawn.answer(VecX::Unit(n.size(), n.first(bow.riser.yaw)));
        }
        std::vector<double> values;
        for (std::size_t i = 0; i < known.states.size(); ++i)
            for (const StateMeasure& m : measures_) values.push_back(m.value({bow, draw, i, 0}));
        for (const DrawMeasure& m : draw_measures_) values.push_back(m.value(known.strung, draw));
        return values;
    }

    const StrungBow& strung_;
    StateSensitivity sensitivity_;
    std::vector<StateMeasure> measures_;
    std::vector<DrawMeasure> draw_measures_;
};

}  // namespace

EffectsTable effects_table(const StrungBow& strung, const Draw& today, LengthRule lengths,
                           const std::vector<Setting>& settings) {
    Effects effects(strung, today, lengths);
    EffectsTable table{lengths, settings, effects.rows()};
    for (const Setting& setting : settings) {
        const std::vector<double> changes = effects.changes(setting);
        for (std::size_t i = 0; i < changes.size(); ++i) table.effects[i].change.push_back(changes[i]);
    }
    return table;
}

}  // namespace limbwright::models
