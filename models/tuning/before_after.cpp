#include "models/tuning/before_after.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/states/measures.hpp"
#include "models/tuning/tear_measures.hpp"

namespace limbwright::models {
namespace {

/// Values of one tune in the rows' order.
using Values = std::vector<double>;

/// A state measure over the draw: at brace, at full draw, or the worst of all states.
enum class Take { brace, full, largest, least };

struct Row {
    const char* name;     ///< of the state measure; all whose names begin so are taken together
    const char* shown;    ///< as the cure calls it
    const char* comment;  ///< what `take` adds to the definition
    Take take;
    int digits;
    Worse worse_when;
    double threshold;
};
constexpr Row rows[] = {
    {"cam lean, top", "cam lean, top, at brace", "", Take::brace, 2, Worse::larger, 0.1},
    {"cam lean, bottom", "cam lean, bottom, at brace", "", Take::brace, 2, Worse::larger, 0.1},
    {"cam lean, top", "cam lean, top, at full draw", "", Take::full, 2, Worse::larger, 0.1},
    {"cam lean, bottom", "cam lean, bottom, at full draw", "", Take::full, 2, Worse::larger, 0.1},
    {"nock travel, lateral", "nock travel, lateral, at full draw", "", Take::full, 2, Worse::never, 0},
    {"nock travel, lateral", "nock travel, lateral, largest", "; its largest size of all states",
     Take::largest, 2, Worse::larger, 0.5},
    {"timing, turns", "timing, at full draw", "", Take::full, 2, Worse::larger, 0.1},
    {"forgiveness, arrow yaw", "forgiveness, arrow yaw", ", at full draw", Take::full, 4, Worse::larger,
     0.003},
    {"clearance", "clearance, smallest", "; of all states", Take::least, 2, Worse::lower, 0.5},
    {"guide side force", "guide side force, at full draw", "", Take::full, 1, Worse::larger, 2},
    {"strain share", "strain share, largest", "; of all limbs and states", Take::largest, 1, Worse::higher,
     2},
    {"axle stress share", "axle stress share, largest", "; of both axles and all states", Take::largest, 1,
     Worse::higher, 2},
};

/// Of a draw as a whole.
struct WholeRow {
    const char* name;
    Worse worse_when;
    double threshold;
};
constexpr WholeRow whole_rows[] = {
    {"axle-to-axle", Worse::never, 0},
    {"brace height", Worse::never, 0},
    {"nocking-point height", Worse::never, 0},
    {"straightedge gap, top", Worse::never, 0},
    {"straightedge gap, bottom", Worse::never, 0},
    {"peak weight", Worse::other, 2},
    {"holding weight", Worse::other, 2},
};
constexpr const char* tear_rows[] = {"tail turn, lateral", "tail turn, vertical", "end slope, lateral",
                                     "end slope, vertical"};

double taken(const SolvedTune& tune, const std::vector<StateMeasure>& measures, const Row& row) {
    const auto& states = tune.draw.states;
    double value = row.take == Take::least ? HUGE_VAL : 0;
    const auto look = [&](const StateMeasure& m, std::size_t i) {
        const double now = m.value({tune.strung.bow, tune.draw, i, 0});
        switch (row.take) {
            case Take::brace:
            case Take::full:
                value = now;
                break;
            case Take::largest:
                value = std::max(value, std::abs(now));
                break;
            case Take::least:
                value = std::min(value, now);
        }
    };
    for (const StateMeasure& m : measures) {
        if (!m.name.starts_with(row.name)) continue;
        if (row.take == Take::brace)
            look(m, 0);
        else if (row.take == Take::full)
            look(m, states.size() - 1);
        else
            for (std::size_t i = 0; i < states.size(); ++i) look(m, i);
    }
    return value;
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
    for (const DrawMeasure& m : tear_measures()) {
        const bool wanted = std::ranges::find(tear_rows, m.name) != std::end(tear_rows);
        if (!wanted) continue;
        all.push_back({m.name, m.unit, m.definition, m.digits, m.value(before.strung, before.draw),
                       m.value(after.strung, after.draw), Worse::larger, 0.1});
    }
    const std::vector<StateMeasure> old = state_measures(before.strung.bow),
                                    now = state_measures(after.strung.bow);
    for (const Row& row : rows) {
        const auto source =
            std::ranges::find_if(old, [&](const StateMeasure& m) { return m.name.starts_with(row.name); });
        if (source == old.end()) continue;  // no timing where there is one cam
        all.push_back({row.shown, source->unit, source->definition + row.comment, row.digits,
                       taken(before, old, row), taken(after, now, row), row.worse_when, row.threshold});
    }
    for (const DrawMeasure& m : draw_measures())
        for (const WholeRow& row : whole_rows)
            if (m.name == row.name)
                all.push_back({m.name, m.unit, m.definition, m.digits, m.value(before.strung, before.draw),
                               m.value(after.strung, after.draw), row.worse_when, row.threshold});
    return all;
}

std::string to_text(const CureMeasure& m) {
    return fmt::format("{}: {:.{}f} to {:.{}f} {}", m.name, m.before, m.digits, m.after, m.digits, m.unit);
}

}  // namespace limbwright::models
