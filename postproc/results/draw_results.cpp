#include "postproc/results/draw_results.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "models/bow/bow_writer.hpp"
#include "postproc/output/json_document.hpp"

namespace limbwright::postproc {
namespace {

using models::DrawState;
using models::Measure;

Column column_of(const Measure& m) {
    return {m.name, m.unit, m.definition, m.digits};
}

std::vector<std::string> node_names(const models::AssembledBow& bow) {
    std::vector<std::string> names;
    for (int i = 0; i < bow.system.numbering().nodes; ++i) names.push_back(bow.part_of_freedom(6 * i));
    return names;
}

StateRecord record_of(const DrawState& s) {
    StateRecord r;
    r.draw = s.draw;
    for (const solver::Pose& X : s.state.nodes) {
        r.positions.push_back(X.position);
        r.rotations.emplace_back(X.rotation.w, X.rotation.v.x(), X.rotation.v.y(), X.rotation.v.z());
    }
    r.points = s.state.points;
    r.scalars = s.state.scalars;
    r.residual = s.residual;
    r.iterations = s.iterations;
    r.negative_pivots = s.negative_pivots;
    return r;
}

}  // namespace

MeasuredDraw measured(const models::StrungBow& strung, const models::Draw& draw) {
    std::vector<Measure> measures = models::state_measures(strung.bow);
    std::vector<std::vector<double>> values = models::values(measures, strung.bow, draw);
    return {strung, draw, std::move(measures), std::move(values)};
}

const std::vector<double>& values_of(const MeasuredDraw& draw, std::string_view id) {
    const Measure* measure = models::find(draw.measures, id);
    if (!measure) throw std::invalid_argument(fmt::format("no measure of a state is called {}", id));
    return draw.values[static_cast<std::size_t>(measure - draw.measures.data())];
}

Table state_table(const MeasuredDraw& draw) {
    Table table{.title = "At brace, at peak weight, in the last state",
                .columns = {{"at brace", "", "in the first state", 3},
                            {"at peak", "", "in the state with the largest draw force", 3},
                            {"at full draw", "", "in the last state", 3}},
                .rows = {},
                .text_name = "measure",
                .texts = {}};
    const std::size_t peak = draw.draw.peak_index();
    for (std::size_t i = 0; i < draw.measures.size(); ++i) {
        const Measure& m = draw.measures[i];
        if (m.id == "residual" || m.id == "iterations") continue;
        const std::vector<double>& v = draw.values[i];
        table.texts.push_back(labelled(m.name, m.unit));
        table.rows.push_back({v.front(), v[peak], v.back()});
    }
    return table;
}

Table draw_table(const MeasuredDraw& draw) {
    Table table{.title = "The draw as a whole",
                .columns = {{"value", "", "", 3}},
                .rows = {},
                .text_name = "measure",
                .texts = {}};
    for (const Measure& m : models::draw_measures()) {
        table.texts.push_back(labelled(m.name, m.unit));
        table.rows.push_back({m.value({draw.strung.bow, draw.draw})});
    }
    return table;
}

Table course_table(const MeasuredDraw& draw) {
    constexpr std::array shown{"draw",
                               "draw_force",
                               "lean_top",
                               "lean_bottom",
                               "nock_travel_lateral",
                               "nock_travel_vertical",
                               "guide_side_force",
                               "clearance",
                               "stored_energy"};
    Table table;
    table.title = "Over the draw";
    std::vector<const std::vector<double>*> values;
    for (const char* id : shown) {
        table.columns.push_back(column_of(*models::find(draw.measures, id)));
        values.push_back(&values_of(draw, id));
    }
    const std::size_t last = draw.draw.states.size() - 1;
    const std::size_t stride = std::max<std::size_t>(1, last / 12);
    for (std::size_t i = 0; i <= last; i = i == last || i + stride <= last ? i + stride : last) {
        std::vector<double> row;
        for (const std::vector<double>* v : values) row.push_back((*v)[i]);
        table.rows.push_back(std::move(row));
    }
    return table;
}

nlohmann::ordered_json to_json(const MeasuredDraw& draw) {
    Table states{.title = "Measures over the draw", .columns = {}, .rows = {}, .text_name = "", .texts = {}};
    for (const Measure& m : draw.measures) states.columns.push_back(column_of(m));
    for (std::size_t i = 0; i < draw.draw.states.size(); ++i) {
        std::vector<double> row;
        for (const std::vector<double>& v : draw.values) row.push_back(v[i]);
        states.rows.push_back(std::move(row));
    }
    nlohmann::ordered_json whole = nlohmann::ordered_json::array();
    for (const Measure& m : models::draw_measures()) {
        const double value = m.value({draw.strung.bow, draw.draw});
        whole.push_back({{"id", m.id},
                         {"name", m.name},
                         {"unit", m.unit},
                         {"definition", m.definition},
                         {"value", finite_or_null(value)}});
    }
    nlohmann::ordered_json json;
    json["bow"] = draw.strung.bow.bow.name;
    json["draw"] = std::move(whole);
    json["natural_lengths"] = {{"unit", "mm"},
                               {"definition", "without the layout's twists and without yoke legs"},
                               {"string_above", draw.strung.lengths.string_above},
                               {"string_below", draw.strung.lengths.string_below},
                               {"cables", draw.strung.lengths.cables}};
    json["states"] = to_json(states);
    json["warnings"] = draw.draw.warnings;
    json["failure"] = draw.draw.failure ? nlohmann::ordered_json(*draw.draw.failure) : nullptr;
    return json_document("draw", json);
}

DrawRecord record_of(const MeasuredDraw& draw, const std::string& bow_file) {
    const models::AssembledBow& bow = draw.strung.bow;
    DrawRecord record;
    record.limbwright_version = LIMBWRIGHT_VERSION;
    record.bow_file = bow_file;
    record.resolved_values = models::bow_to_toml(bow.bow);
    record.node_names = node_names(bow);
    const solver::Numbering& n = bow.system.numbering();
    for (int i = 0; i < n.points; ++i)
        record.point_names.push_back(bow.part_of_freedom(n.first(solver::PointId(i))));
    for (int i = 0; i < n.scalars; ++i)
        record.scalar_names.push_back(bow.part_of_freedom(n.first(solver::ScalarId(i))));
    for (std::size_t i = 0; i < draw.measures.size(); ++i) {
        const Measure& m = draw.measures[i];
        record.measures.push_back({m.name, m.unit, m.definition, draw.values[i]});
    }
    for (const DrawState& s : draw.draw.states) record.states.push_back(record_of(s));
    return record;
}

}  // namespace limbwright::postproc
