#include "postproc/report/report_data.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "models/bow/spacers.hpp"
#include "models/states/sensitivity_table.hpp"
#include "postproc/output/json_document.hpp"
#include "postproc/report/bench_sheet.hpp"
#include "postproc/results/draw_results.hpp"
#include "postproc/scene/bow_views.hpp"

namespace limbwright::postproc {
namespace {

using Json = nlohmann::ordered_json;
using models::DrawPlace;
using models::EffectsTable;

struct Shown {
    const char* measure;
    DrawPlace at;
    const char* head;
    int digits;
};
constexpr Shown shown_effects[] = {
    {"cam lean, top", DrawPlace::brace, "lean top, brace", 3},
    {"cam lean, bottom", DrawPlace::brace, "lean bottom, brace", 3},
    {"cam lean, top", DrawPlace::full_draw, "lean top, full draw", 3},
    {"cam lean, bottom", DrawPlace::full_draw, "lean bottom, full draw", 3},
    {"nock travel, lateral", DrawPlace::full_draw, "nock sideways, full draw", 2},
    {"nock travel, vertical", DrawPlace::full_draw, "nock up, full draw", 2},
    {"draw force", DrawPlace::peak, "peak weight", 2},
    {"draw force", DrawPlace::full_draw, "holding weight", 2},
};

/// Settings whose every change is shown as zero, as twists are where lengths are re-timed, only make a table
/// longer.
void drop_idle_settings(Table& table) {
    for (std::size_t i = table.rows.size(); i-- > 1;) {
        bool idle = true;
        for (std::size_t c = 0; c < table.columns.size(); ++c)
            idle = idle && std::abs(table.rows[i][c]) < 0.5 * std::pow(10, -table.columns[c].digits);
        if (!idle) continue;
        table.rows.erase(table.rows.begin() + static_cast<std::ptrdiff_t>(i));
        table.texts.erase(table.texts.begin() + static_cast<std::ptrdiff_t>(i));
    }
}

/// Settings down, a few measures across, today's values on top.
Table effects_of(const models::SolvedTune& today, models::LengthRule lengths, std::string title) {
    const models::Bow& bow = today.strung.bow.bow;
    const EffectsTable effects = models::effects_table(
        today.strung, today.draw, lengths, models::settings_of(bow));
    Table table{.title = std::move(title),
                .columns = {},
                .rows = {{}},
                .text_name = "setting: one step",
                .texts = {"(today's value)"}};
    for (const models::Setting& setting : effects.settings)
        table.texts.push_back(setting.name + ": " + setting.step_name);
    table.rows.resize(table.texts.size());
    for (const Shown& shown : shown_effects) {
        const auto effect = std::ranges::find_if(effects.effects, [&](const models::Effect& e) {
            return e.measure == shown.measure && e.at == shown.at;
        });
        table.columns.push_back({shown.head, effect->unit, effect->definition, shown.digits});
        table.rows[0].push_back(effect->today);
        for (std::size_t i = 0; i < effect->change.size(); ++i)
            table.rows[i + 1].push_back(effect->change[i]);
    }
    drop_idle_settings(table);
    return table;
}

std::vector<std::string> plots_of(const models::SolvedTune& today) {
    const MeasuredDraw draw = measured(today.strung, today.draw);
    const auto values = [&](const char* name) { return values_of(draw, name); };
    const std::vector<double> x = draws_of(today.draw);
    return {to_svg(force_draw_plot(today.draw)),
            to_svg(cam_angles_plot(x, {values("cam lean, top"), values("cam lean, bottom")},
                                   {values("cam toe, top"), values("cam toe, bottom")})),
            to_svg(nock_travel_plot(x, values("nock travel, lateral"), values("nock travel, vertical")))};
}

/// Small enough that its texts can be read when both pictures share a page.
std::string still(BowPicture picture) {
    picture.width = 440;
    picture.height = 440;
    return to_svg(picture);
}

ReportTear tear_of(const models::TuneSolver& solver, const models::Tear& tear) {
    CureResults results{
        solver, tear, {}, models::check_practice(solver, tear), models::find_cures(solver, tear)};
    const models::SolvedTune& today = solver.today();
    if (tear.arrow)
        results.shaft = models::check_shaft(
            *tear.arrow, std::ranges::max_element(today.draw.states, {}, &models::DrawState::force)->force);
    ReportTear report{to_text(results), {}, {}};
    if (!results.cures.ranked.empty()) {
        const BenchSheet sheet{today.strung.bow.bow, tear, results.cures.wanted, today.layout,
                               results.cures.ranked.front()};
        report.title = title_of(sheet);
        report.sheet = lay_out(sheet).to_svg(report.title);
    }
    return report;
}

Json rounded(double value, double step) {
    if (!std::isfinite(value)) return nullptr;
    const double whole = std::round(value / step);
    return whole == 0 ? 0.0 : whole / std::round(1 / step);
}

Json numbers(const std::vector<double>& values, double step) {
    Json array = Json::array();
    for (const double value : values) array.push_back(rounded(value, step));
    return array;
}

Json numbers(const std::vector<Vec3>& points, double step) {
    Json array = Json::array();
    for (const Vec3& p : points)
        for (int i = 0; i < 3; ++i) array.push_back(rounded(p[i], step));
    return array;
}

Json to_json(const ReportState& state) {
    Json pieces = Json::array();
    for (const ReportPiece& piece : state.pieces) {
        Json triangles = Json::array();
        for (const auto& triangle : piece.triangles)
            for (const int corner : triangle) triangles.push_back(corner);
        Json one{{"name", piece.name}, {"points", numbers(piece.points, 0.1)}};
        const bool leans = std::ranges::any_of(piece.lean, [](const Vec3& d) { return !d.isZero(0); });
        one["lean"] = leans ? numbers(piece.lean, 0.01) : Json::array();
        one["triangles"] = std::move(triangles);
        pieces.push_back(std::move(one));
    }
    return {{"name", state.name},
            {"draw", rounded(state.draw, 0.1)},
            {"force", rounded(state.force, 0.01)},
            {"pieces", std::move(pieces)}};
}

Json to_json(const ReportLayout& layout) {
    Json curves = Json::array();
    for (const std::vector<double>& curve : layout.curves) curves.push_back(numbers(curve, 1e-4));
    return {{"name", layout.name},
            {"change", layout.change},
            {"rework", layout.rework},
            {"score", rounded(layout.score, 1e-6)},
            {"broken", layout.broken},
            {"failure", layout.failure},
            {"draw", numbers(layout.draw, 0.01)},
            {"curves", std::move(curves)}};
}

}  // namespace

ReportData report_data(const models::Bow& bow, const ReportOptions& options) {
    const models::TuneSolver solver(bow, bow.shooter.states);
    const models::SolvedTune& today = solver.today();
    ReportData data;
    data.bow = bow.name;
    data.warnings = today.draw.warnings;
    data.states = {report_state(today.strung, today.draw.states.front(), "brace"),
                   report_state(today.strung, today.draw.states.back(), "full draw")};
    data.side = still(side_view(today.strung, today.draw));
    data.behind = still(view_from_behind(today.strung, today.draw));
    data.plots = plots_of(today);
    data.curves = report_curves(today.strung.bow);
    if (options.study) {
        StudiedLayouts studied = layouts_of_study(*options.study, options.best, options.threads);
        data.study = std::move(studied.study);
        data.layouts = std::move(studied.layouts);
        data.notes = std::move(studied.notes);
    } else {
        data.layouts = layouts_at_hand(solver, options.threads);
        data.notes = {
            "The other places for the limbs that stand in the bow, and small shifts of cams and guide; a "
            "cam's "
            "shift asks for spacers that fit.",
            "After limbs and spacers string and cables are re-timed to what was measured at brace; the guide "
            "leaves them as they are."};
    }
    data.effects = {
        effects_of(today, models::LengthRule::kept, "String and cables keep their lengths"),
        effects_of(today, models::LengthRule::re_timed,
                   "String and cables are re-timed to what was measured at brace: twists change nothing")};
    if (options.tear) data.tear = tear_of(solver, *options.tear);
    return data;
}

Json to_json(const ReportData& data) {
    Json curves = Json::array(), layouts = Json::array(), states = Json::array();
    for (const ReportCurve& curve : data.curves)
        curves.push_back({{"name", curve.name},
                          {"title", curve.title},
                          {"positive", curve.positive},
                          {"unit", curve.unit},
                          {"definition", curve.definition},
                          {"least_span", curve.least_span},
                          {"digits", curve.digits}});
    for (const ReportLayout& layout : data.layouts) layouts.push_back(to_json(layout));
    for (const ReportState& state : data.states) states.push_back(to_json(state));
    return json_document("report",
                         {{"bow", data.bow},
                          {"units", {{"draw", "mm"}, {"force", "N"}, {"points", "mm"}, {"lean", "mm"}}},
                          {"study", data.study},
                          {"curves", std::move(curves)},
                          {"layouts", std::move(layouts)},
                          {"states", std::move(states)}});
}

}  // namespace limbwright::postproc
