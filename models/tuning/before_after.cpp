#include "models/tuning/before_after.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/states/measure_table.hpp"
#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

using Reduce = double (*)(double, double);
double larger_size(double a, double b) {
    return std::max(std::abs(a), std::abs(b));
}
double smaller(double a, double b) {
    return std::min(a, b);
}

/// State measures over all states of a draw.
struct OverStates {
    const char *id, *name;
    const char* comment;  ///< added to the definition
    const char* source;   ///< start of the ids of the state measures that are taken together
    Reduce reduce;
};
constexpr OverStates over_states[] = {
    {"nock_travel_lateral_largest", "nock travel, lateral, largest", "; its largest size of all states",
     "nock_travel_lateral", larger_size},
    {"clearance_smallest", "clearance, smallest", "; of all states", "clearance", smaller},
    {"strain_share_largest", "strain share, largest", "; of all limbs and states", "strain_share_",
     larger_size},
    {"axle_stress_share_largest", "axle stress share, largest", "; of both axles and all states",
     "axle_stress_share_", larger_size},
};

Measure made(const OverStates& wanted, const std::vector<Measure>& states) {
    std::vector<Measure> sources;
    std::ranges::copy_if(states, std::back_inserter(sources),
                         [&](const Measure& m) { return m.id.starts_with(wanted.source); });
    Measure all = sources.front();
    all.id = wanted.id;
    all.name = wanted.name;
    all.definition += wanted.comment;
    all.value = [sources, reduce = wanted.reduce](const StateView& v) {
        double value = sources.front().value({v.bow, v.draw});
        for (const Measure& source : sources)
            for (std::size_t i = 0; i < v.draw.states.size(); ++i)
                value = reduce(value, source.value({v.bow, v.draw, i}));
        return value;
    };
    return all;
}

struct Row {
    const char* id;
    DrawPlace at;
    int digits;
    Worse worse_when;
    double threshold;
};
constexpr Row rows[] = {
    {"tail_turn_lateral", DrawPlace::whole, 3, Worse::larger, 0.1},
    {"tail_turn_vertical", DrawPlace::whole, 3, Worse::larger, 0.1},
    {"end_slope_lateral", DrawPlace::whole, 3, Worse::larger, 0.1},
    {"end_slope_vertical", DrawPlace::whole, 3, Worse::larger, 0.1},
    {"lean_top", DrawPlace::brace, 2, Worse::larger, 0.1},
    {"lean_bottom", DrawPlace::brace, 2, Worse::larger, 0.1},
    {"lean_top", DrawPlace::full_draw, 2, Worse::larger, 0.1},
    {"lean_bottom", DrawPlace::full_draw, 2, Worse::larger, 0.1},
    {"nock_travel_lateral", DrawPlace::full_draw, 2, Worse::never, 0},
    {"nock_travel_lateral_largest", DrawPlace::whole, 2, Worse::larger, 0.5},
    {"timing_turns", DrawPlace::full_draw, 2, Worse::larger, 0.1},
    {"forgiveness_arrow_yaw", DrawPlace::whole, 4, Worse::larger, 0.003},
    {"clearance_smallest", DrawPlace::whole, 2, Worse::lower, 0.5},
    {"guide_side_force", DrawPlace::full_draw, 1, Worse::larger, 2},
    {"strain_share_largest", DrawPlace::whole, 1, Worse::higher, 2},
    {"axle_stress_share_largest", DrawPlace::whole, 1, Worse::higher, 2},
    {"axle_to_axle", DrawPlace::whole, 2, Worse::never, 0},
    {"brace_height", DrawPlace::whole, 2, Worse::never, 0},
    {"nocking_point_height", DrawPlace::whole, 2, Worse::never, 0},
    {"straightedge_gap_top", DrawPlace::whole, 2, Worse::never, 0},
    {"straightedge_gap_bottom", DrawPlace::whole, 2, Worse::never, 0},
    {"peak_weight", DrawPlace::whole, 1, Worse::other, 2},
    {"holding_weight", DrawPlace::whole, 1, Worse::other, 2},
};

/// All that a cure may be judged by.
MeasureTable cure_table(const AssembledBow& bow) {
    MeasureTable table = measure_table(bow);
    std::ranges::copy(tear_measures(), std::back_inserter(table.draw));
    for (const OverStates& wanted : over_states) table.draw.push_back(made(wanted, table.states));
    return table;
}

double value_of(const PlacedMeasure& m, const SolvedTune& tune) {
    const std::size_t last = tune.draw.states.size() - 1;
    return m.measure.value({tune.strung.bow, tune.draw, m.at == DrawPlace::full_draw ? last : 0});
}

double badness(Worse worse_when, double value) {
    switch (worse_when) {
        case Worse::larger:
            return std::abs(value);
        case Worse::lower:
            return -value;
        default:
            return value;
    }
}

}  // namespace

bool CureMeasure::worse() const {
    if (worse_when == Worse::never) return false;
    const double change = badness(worse_when, after) - badness(worse_when, before);
    return (worse_when == Worse::other ? std::abs(change) : change) > threshold;
}

std::vector<CureMeasure> compare(const SolvedTune& before, const SolvedTune& after) {
    std::vector<CureMeasure> all;
    const MeasureTable table = cure_table(before.strung.bow), table_after = cure_table(after.strung.bow);
    for (const Row& row : rows) {
        std::optional<PlacedMeasure> of = find(table, {row.id, row.at});
        if (!of) continue;  // no timing where there is one cam
        of->measure.digits = row.digits;
        all.push_back({*of, value_of(*of, before), value_of(*find(table_after, of->key()), after),
                       row.worse_when, row.threshold});
    }
    return all;
}

const CureMeasure* find(const std::vector<CureMeasure>& measures, const MeasureKey& key) {
    const auto found = std::ranges::find(measures, key, [](const CureMeasure& m) { return m.of.key(); });
    return found == measures.end() ? nullptr : &*found;
}

std::string to_text(const CureMeasure& m) {
    const int digits = m.of.measure.digits;
    return fmt::format("{}: {:.{}f} to {:.{}f} {}", in_words(m.of), m.before, digits, m.after, digits,
                       m.of.measure.unit);
}

}  // namespace limbwright::models
