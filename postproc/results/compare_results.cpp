#include "postproc/results/compare_results.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <nlohmann/json.hpp>
#include <set>

#include "models/states/measure_table.hpp"
#include "postproc/output/json_document.hpp"

namespace limbwright::postproc {
namespace {

using models::DrawPlace;
using models::ModelRun;
using models::PartModel;

/// A measure at a place of the draw, with one value for each run; NaN where a run has none.
struct Row {
    models::PlacedMeasure of;
    bool first_look = false;
    std::vector<double> values;
};

/// Measures of the states that a tuner looks at first.
const std::set<std::string_view>& first_looked_at() {
    static const std::set<std::string_view> ids{"draw_force",   "lean_top",      "lean_bottom",
                                                "toe_top",      "toe_bottom",    "nock_travel_lateral",
                                                "riser_twist",  "riser_bend",    "guide_side_force",
                                                "timing_turns", "stored_energy", "forgiveness_arrow_yaw"};
    return ids;
}

const Row* find(const std::vector<Row>& rows, const models::MeasureKey& key) {
    const auto row = std::ranges::find(rows, key, [](const Row& r) { return r.of.key(); });
    return row == rows.end() ? nullptr : &*row;
}

std::vector<Row> rows_of(const Runs& runs) {
    std::vector<Row> rows;
    const auto add = [&](const models::PlacedMeasure& of, bool first_look, std::size_t run, double value) {
        auto row = std::ranges::find(rows, of.key(), [](const Row& r) { return r.of.key(); });
        if (row == rows.end())
            row = rows.insert(row, {of, first_look, std::vector<double>(runs.size(), NAN)});
        row->values[run] = value;
    };
    for (std::size_t k = 0; k < runs.size(); ++k) {
        const ModelRun& run = runs[k];
        const models::MeasureTable table = models::measure_table(run.strung.bow);
        for (const models::Measure& m : table.draw)
            add({m, DrawPlace::whole}, true, k, m.value({run.strung.bow, run.draw}));
        const auto values = models::values(table.states, run.strung.bow, run.draw);
        const std::array states{std::size_t{0}, run.draw.peak_index(), run.draw.states.size() - 1};
        for (std::size_t i = 0; i < table.states.size(); ++i) {
            const models::Measure& m = table.states[i];
            if (m.id == "draw" || m.id == "residual" || m.id == "iterations") continue;
            for (std::size_t p = 0; p < states.size(); ++p)
                add({m, models::state_places[p]}, first_looked_at().contains(m.id) && states[p] > 0, k,
                    values[i][states[p]]);
        }
    }
    return rows;
}

/// Place of the run of beams as the program takes them where it is not told otherwise.
std::size_t beams_of(const Runs& runs) {
    for (std::size_t k = 0; k < runs.size(); ++k)
        if (runs[k].choice.name() == "beams") return k;
    return 0;
}

Table side_by_side(const Runs& runs, const std::string& title, const std::string& text_name, int digits) {
    Table table{.title = title, .columns = {}, .rows = {}, .text_name = text_name, .texts = {}};
    for (const ModelRun& run : runs) table.columns.push_back({run.choice.name(), "", "", digits});
    table.columns.push_back({"beams less shells", "", "difference of those two columns", digits});
    table.columns.push_back({"share", "%", "of the shells' value", 1});
    return table;
}

void add_row(Table& table, const std::string& text, std::vector<double> values, std::size_t beams) {
    const double difference = values[beams] - values.back();
    const double share = values.back() == 0 ? NAN : 100 * difference / std::abs(values.back());
    values.insert(values.end(), {difference, share});
    table.texts.push_back(text);
    table.rows.push_back(std::move(values));
}

/// Value of a row in the run of a given name.
double value_in(const Runs& runs, const Row& row, const std::string& run) {
    for (std::size_t k = 0; k < runs.size(); ++k)
        if (runs[k].choice.name() == run) return row.values[k];
    return NAN;
}

}  // namespace

Table cost_table(const Runs& runs) {
    Table table{.title = "Size and time",
                .columns = {{"free numbers", "", "freedoms of the system", 0},
                            {"elements", "", "", 0},
                            {"blocks of the factor", "", "of 6 by 6 numbers", 0},
                            {"fill", "", "blocks of the factor over those that elements touch", 2},
                            {"stringing", "s", "wall clock", 2},
                            {"draw", "s", "wall clock", 2},
                            {"iterations", "", "of the draw", 0},
                            {"per iteration", "ms", "draw over iterations", 2}},
                .rows = {},
                .text_name = "model",
                .texts = {}};
    for (const ModelRun& run : runs) {
        const solver::System& system = run.strung.bow.system;
        table.texts.push_back(run.choice.name());
        table.rows.push_back({double(system.numbering().used()), double(system.elements().size()),
                              double(system.plan().blocks), system.plan().fill(), run.string_seconds,
                              run.draw_seconds, double(run.iterations),
                              1e3 * run.draw_seconds / std::max(1, run.iterations)});
    }
    return table;
}

Table measures_table(const Runs& runs, bool all) {
    Table table = side_by_side(runs, "Measures", "measure", 3);
    for (const Row& row : rows_of(runs))
        if (all || row.first_look)
            add_row(table, labelled(in_words(row.of), row.of.measure.unit), row.values, beams_of(runs));
    return table;
}

Table rates_table(const Runs& runs) {
    Table table =
        side_by_side(runs, "One limb and half of the riser alone, clamped", "load per displacement", 2);
    const auto add = [&](const std::string& text, const std::function<double(const ModelRun&)>& rate) {
        std::vector<double> values;
        for (const ModelRun& run : runs) values.push_back(rate(run));
        add_row(table, text, std::move(values), beams_of(runs));
    };
    add("limb, flatwise [N/mm]", [](const ModelRun& r) { return r.limb.along_plane; });
    add("limb, sideways [N/mm]", [](const ModelRun& r) { return r.limb.sideways; });
    add("limb, twist [N mm/deg]", [](const ModelRun& r) { return r.limb.twist; });
    add("riser, in the bow's plane [N/mm]", [](const ModelRun& r) { return r.riser.along_plane; });
    add("riser, sideways [N/mm]", [](const ModelRun& r) { return r.riser.sideways; });
    add("riser, twist [N mm/deg]", [](const ModelRun& r) { return r.riser.twist; });
    return table;
}

std::vector<std::string> findings(const Runs& runs) {
    const std::vector<Row> rows = rows_of(runs);
    std::vector<std::string> text;
    const auto share = [](double a, double b) { return 100 * (a - b) / std::abs(b); };
    const auto tell = [&](const models::MeasureKey& key, const std::string& words, int digits) {
        const Row* row = find(rows, key);
        if (!row) return;
        const double shells = value_in(runs, *row, "shells"), beams = value_in(runs, *row, "beams");
        if (!std::isfinite(shells) || !std::isfinite(beams)) return;
        std::string sentence = fmt::format("{}: {:.{}f} with beams, {:.{}f} with shells ({:+.1f} %).", words,
                                           beams, digits, shells, digits, share(beams, shells));
        const double limbs = value_in(runs, *row, "shell limbs"), riser = value_in(runs, *row, "shell riser");
        if (std::isfinite(limbs) && std::isfinite(riser))
            sentence +=
                fmt::format(" Of the difference {:+.{}f} comes with the limbs, {:+.{}f} with the riser.",
                            beams - limbs, digits, beams - riser, digits);
        const double free = value_in(runs, *row, "beams, ends free to warp");
        if (std::isfinite(free))
            sentence += fmt::format(" Beams whose ends are free to warp: {:.{}f} ({:+.1f} %).", free, digits,
                                    share(free, shells));
        text.push_back(sentence);
    };
    tell({"draw_force", DrawPlace::peak}, "Draw force at peak [N]", 2);
    tell({"draw_force", DrawPlace::full_draw}, "Draw force at full draw [N]", 2);
    for (const std::string end : {"top", "bottom"})
        for (const DrawPlace at : {DrawPlace::peak, DrawPlace::full_draw})
            tell({"lean_" + end, at}, in_words("Cam lean, " + end, at) + " [deg]", 3);
    const ModelRun& last = runs.back();
    const ModelRun& beams = runs[beams_of(runs)];
    text.push_back(fmt::format(
        "One limb against twist: beams {:.1f}, {} {:.1f} N mm/deg ({:+.1f} %). Twist makes a limb's "
        "cross-sections warp, and pocket and bore hold them flat: that stiffens a wide thin limb of a "
        "material with a low shear modulus near its ends, and is why limbs of beams whose ends are free to "
        "warp lean too far.",
        beams.limb.twist, last.choice.name(), last.limb.twist, share(beams.limb.twist, last.limb.twist)));
    return text;
}

nlohmann::ordered_json to_json(const Runs& runs, const std::string& bow) {
    return json_document("compare", {{"bow", bow},
                                     {"cost", to_json(cost_table(runs))},
                                     {"measures", to_json(measures_table(runs, true))},
                                     {"rates", to_json(rates_table(runs))},
                                     {"findings", findings(runs)}});
}

}  // namespace limbwright::postproc
