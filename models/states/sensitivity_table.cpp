#include "models/states/sensitivity_table.hpp"

#include <algorithm>

#include "models/states/state_sensitivity.hpp"

namespace limbwright::models {
namespace {

using solver::VecX;

/// What three states tell of a bow whose nocking point is held; what the last state has as a measure of its
/// own does not stand once more among those of the draw.
MeasureTable answering_measures(const AssembledBow& bow) {
    MeasureTable table = short_draw_measures(bow);
    std::erase_if(table.draw, [&](const Measure& m) { return m.fixed_at_ends || find(table.states, m.id); });
    std::erase_if(table.states, [](const Measure& m) { return m.fixed_at_ends; });
    return table;
}

class Effects {
public:
    Effects(const StrungBow& strung, const Draw& today, LengthRule rule)
        : strung_(strung),
          sensitivity_(strung, {today.peak().state, today.states.back().state}, rule),
          measures_(answering_measures(strung.bow)) {}

    /// Rows without changes yet.
    std::vector<Effect> rows() {
        std::vector<Effect> rows;
        for (const DrawPlace place : state_places)
            for (const Measure& m : measures_.states) rows.push_back({{m, place}, 0, {}});
        for (const Measure& m : measures_.draw) rows.push_back({{m, DrawPlace::whole}, 0, {}});
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
        const int nock = bow.system.numbering().first(bow.nock[0]);
        Draw draw;
        for (std::size_t i = 0; i < known.states.size(); ++i) {
            const solver::FactoredState drawn(known.systems[i], known.states[i], held_while_drawing(bow));
            DrawState s = draw_state(bow, known.states[i]);
            s.force = -drawn.gradient()[nock];
            s.energy = total_energy(known.systems[i], s.state);
            s.yaw_torque_effect = drawn.answer(yaw_torque(bow));
            draw.states.push_back(std::move(s));
        }
        std::vector<double> values;
        for (std::size_t i = 0; i < draw.states.size(); ++i)
            for (const Measure& m : measures_.states) values.push_back(m.value({bow, draw, i}));
        for (const Measure& m : measures_.draw) values.push_back(m.value({bow, draw}));
        return values;
    }

    const StrungBow& strung_;
    StateSensitivity sensitivity_;
    MeasureTable measures_;
};

}  // namespace

const Effect* EffectsTable::find(const MeasureKey& key) const {
    const auto found = std::ranges::find(effects, key, [](const Effect& e) { return e.of.key(); });
    return found == effects.end() ? nullptr : &*found;
}

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
