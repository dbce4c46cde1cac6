#include "models/states/sensitivity_table.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <stdexcept>

namespace limbwright::models {
namespace {

using solver::MatX;
using solver::State;
using solver::System;
using solver::VecX;

/// Share of a practical step by which a setting is moved either way. Truncation is of order 1e-4 of the
/// step's own second-order effect; rounding, 1e-8 N of the stiffest part, stays below 1e-5 N a step.
constexpr double share = 0.01;

/// What three states tell of a bow whose nocking point is held; what the last state has as a measure of its
/// own does not stand once more among those of the draw.
MeasureTable answering_measures(const AssembledBow& bow) {
    MeasureTable table = short_draw_measures(bow);
    std::erase_if(table.draw, [&](const Measure& m) { return m.fixed_at_ends || find(table.states, m.id); });
    std::erase_if(table.states, [](const Measure& m) { return m.fixed_at_ends; });
    return table;
}

/// A state of today's draw, with the factor of its tangent.
struct Station {
    DrawPlace place = DrawPlace::brace;
    State state;
    std::array<bool, 2> stop_meets{};  ///< top, bottom
    solver::BlockFactor factor;
};

/// The bow at one value of a setting, with its states.
struct Sample {
    StrungBow strung;
    std::vector<State> states;  ///< as the stations
};

class Effects {
public:
    Effects(const StrungBow& strung, const Draw& today, LengthRule rule)
        : strung_(strung),
          rule_(rule),
          workspace_(strung.bow.system),
          measures_(answering_measures(strung.bow)) {
        add_station(DrawPlace::brace, today.states.front().state, held_at_brace(strung.bow));
        add_station(DrawPlace::peak, today.peak().state, held_while_drawing(strung.bow));
        add_station(DrawPlace::full_draw, today.states.back().state, held_while_drawing(strung.bow));
        if (rule_ == LengthRule::re_timed) prepare_lengths();
    }

    /// Rows without changes yet.
    std::vector<Effect> rows() {
        std::vector<Effect> rows;
        for (const Station& s : stations_)
            for (const Measure& m : measures_.states) rows.push_back({{m, s.place}, 0, {}});
        for (const Measure& m : measures_.draw) rows.push_back({{m, DrawPlace::whole}, 0, {}});
        Sample today{strung_, {}};
        for (const Station& s : stations_) today.states.push_back(s.state);
        const std::vector<double> values = values_of(today);
        for (std::size_t i = 0; i < rows.size(); ++i) rows[i].today = values[i];
        return rows;
    }

    /// Changes of all rows for one practical step.
    std::vector<double> changes(const Setting& setting) {
        const double h = share * setting.step;
        Sample more = rebuilt(setting, h), less = rebuilt(setting, -h);
        for (std::size_t i = 0; i < stations_.size(); ++i) {
            VecX slope = slope_at(stations_[i], more.strung.bow, less.strung.bow, h);
            if (i == 0 && rule_ == LengthRule::re_timed) slope += re_time(more, less, slope, h);
            more.states.push_back(moved(stations_[i].state, VecX(h * slope)));
            less.states.push_back(moved(stations_[i].state, VecX(-h * slope)));
            if (i > 0) continue;
            for (Sample* sample : {&more, &less}) {
                sample->strung.brace.state = sample->states[0];
                place_stops(sample->strung.bow, sample->states[0]);
            }
        }
        std::vector<double> change = values_of(more);
        const std::vector<double> before = values_of(less);
        for (std::size_t i = 0; i < change.size(); ++i) change[i] = (change[i] - before[i]) / (2 * share);
        return change;
    }

private:
    void add_station(DrawPlace place, const State& state, const std::vector<int>& held) {
        Station station{place, state, {}, solver::BlockFactor(strung_.bow.system.shared_plan())};
        for (const End end : {End::top, End::bottom}) {
            const AxleParts& axle = strung_.bow.axle(end);
            if (!axle.stop) continue;
            const solver::Spring& stop = stop_of(strung_.bow, axle);
            station.stop_meets[index(end)] = axle.draw_sense * (stop.value(state) - stop.data().rest) > 0;
        }
        fill(with_stops_as_today(strung_.bow, station), state);
        factor(station.factor, held);
        stations_.push_back(std::move(station));
    }

    /// Derivatives of the brace by the lengths, and of what must be met there.
    void prepare_lengths() {
        const AssembledBow& bow = strung_.bow;
        const Station& brace = stations_.front();
        const MatX loads = loads_of_lengths(bow, bow.system, brace.state);
        by_lengths_.resize(loads.rows(), loads.cols());
        MatX unmet(loads.cols(), loads.cols());
        const double h = 1e-3;  // mm
        for (int i = 0; i < loads.cols(); ++i) {
            by_lengths_.col(i) = brace.factor.solve(loads.col(i));
            unmet.col(i) = (unmet_at_brace(bow, moved(brace.state, VecX(h * by_lengths_.col(i)))) -
                            unmet_at_brace(bow, moved(brace.state, VecX(-h * by_lengths_.col(i))))) /
                           (2 * h);
        }
        unmet_by_lengths_.compute(unmet);
    }

    /// The bow at a changed setting, its string and cables as long as today but for their twists.
    Sample rebuilt(const Setting& setting, double change) const {
        Layout layout = strung_.bow.layout;
        setting.set(layout, setting.get(layout) + change);
        Sample sample{{assemble(strung_.bow.bow, layout), strung_.brace, strung_.lengths}, {}};
        AssembledBow& bow = sample.strung.bow;
        bow.system = with_lengths(bow, twisted(bow, strung_.lengths));
        return sample;
    }

    /// dq/ds at a station from the gradients of the bows on both sides.
    static VecX slope_at(const Station& station, const AssembledBow& more, const AssembledBow& less,
                         double h) {
        const VecX load = (total_gradient(with_stops_as_today(less, station), station.state) -
                           total_gradient(with_stops_as_today(more, station), station.state)) /
                          (2 * h);
        return station.factor.solve(load);
    }

    /// Gives both bows the lengths that keep what was met at brace; returns what that adds to the brace's
    /// slope.
    VecX re_time(Sample& more, Sample& less, const VecX& slope, double h) const {
        const State& brace = stations_.front().state;
        const VecX unmet = (unmet_at_brace(more.strung.bow, moved(brace, VecX(h * slope))) -
                            unmet_at_brace(less.strung.bow, moved(brace, VecX(-h * slope)))) /
                           (2 * h);
        const VecX longer = -unmet_by_lengths_.solve(unmet);
        const auto lengthen = [&](StrungBow& s, double by) {
            const VecX lengths = twisted(s.bow, strung_.lengths) + by * longer;
            s.bow.system = with_lengths(s.bow, lengths);
            s.lengths = untwisted(s.bow, lengths);
        };
        lengthen(more.strung, h);
        lengthen(less.strung, -h);
        return by_lengths_ * longer;
    }

    /// Draw stops as ordinary springs where they meet today, without effect elsewhere: their kink has no
    /// derivative.
    static System with_stops_as_today(const AssembledBow& bow, const Station& station) {
        System system = bow.system;
        for (const End end : {End::top, End::bottom}) {
            const AxleParts& axle = bow.axle(end);
            if (!axle.stop) continue;
            solver::Spring::Data data = stop_of(bow, axle).data();
            data.side = solver::Side::both;
            if (!station.stop_meets[index(end)]) data = {};
            system = system.with(*axle.stop,
                                 std::make_shared<const solver::Spring>(turn_against_limbs(axle), data));
        }
        return system;
    }

    /// Gradient and tangent of a system in a state, to the workspace.
    void fill(const System& system, const State& state) {
        solver::assemble(system, state, workspace_.gradient, workspace_.sizes, workspace_.tangent);
    }
    void factor(solver::BlockFactor& factor, const std::vector<int>& held) {
        if (!factor.factor(workspace_.tangent, held))
            throw std::runtime_error(
                "a state of the draw has a tangent without an inverse: no effects can be told");
    }

    std::vector<double> values_of(const Sample& sample) {
        const AssembledBow& bow = sample.strung.bow;
        const std::vector<int> held = held_while_drawing(bow);
        Draw draw;
        for (std::size_t i = 0; i < stations_.size(); ++i) {
            const System system = with_stops_as_today(bow, stations_[i]);
            DrawState s = draw_state(bow, sample.states[i]);
            fill(system, s.state);
            factor(workspace_.factor, held);
            s.energy = total_energy(system, s.state);
            s.yaw_torque_effect = workspace_.factor.solve(yaw_torque(bow));
            draw.states.push_back(std::move(s));
        }
        std::vector<double> values;
        for (std::size_t i = 0; i < stations_.size(); ++i)
            for (const Measure& m : measures_.states) values.push_back(m.value({bow, draw, i}));
        for (const Measure& m : measures_.draw) values.push_back(m.value({bow, draw}));
        return values;
    }

    const StrungBow& strung_;
    LengthRule rule_;
    solver::Workspace workspace_;
    MeasureTable measures_;
    std::vector<Station> stations_;
    MatX by_lengths_;  ///< dq/dL at brace
    Eigen::FullPivLU<MatX> unmet_by_lengths_;
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
