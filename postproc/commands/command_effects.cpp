#include "postproc/commands/command_effects.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "models/bow/bow_file.hpp"
#include "models/bow/spacers.hpp"
#include "models/states/sensitivity_table.hpp"
#include "postproc/commands/strung_bow.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/json_document.hpp"
#include "postproc/output/table.hpp"
#include "postproc/output/usage_error.hpp"

namespace limbwright::postproc {
namespace {

using Json = nlohmann::ordered_json;
using models::DrawPlace;
using models::Effect;
using models::EffectsTable;
using models::LengthRule;
using models::Setting;

/// A measure that a tuner looks at first, with the head of its column.
struct Shown {
    const char* measure;
    DrawPlace at;
    const char* head;
    int digits;
};
constexpr Shown at_brace[] = {
    {"lean_top", DrawPlace::brace, "lean top", 3},
    {"lean_bottom", DrawPlace::brace, "lean bottom", 3},
    {"straightedge_gap_top", DrawPlace::whole, "gap top", 2},
    {"straightedge_gap_bottom", DrawPlace::whole, "gap bottom", 2},
    {"timing_turns", DrawPlace::brace, "timing", 3},
    {"brace_height", DrawPlace::whole, "brace height", 2},
    {"axle_to_axle", DrawPlace::whole, "axle to axle", 2},
};
constexpr Shown at_full_draw[] = {
    {"lean_top", DrawPlace::full_draw, "lean top", 3},
    {"lean_bottom", DrawPlace::full_draw, "lean bottom", 3},
    {"nock_travel_lateral", DrawPlace::full_draw, "nock lateral", 2},
    {"nock_travel_vertical", DrawPlace::full_draw, "nock vertical", 2},
    {"timing_turns", DrawPlace::full_draw, "timing", 3},
    {"draw_force", DrawPlace::full_draw, "holding weight", 2},
    {"draw_force", DrawPlace::peak, "peak weight", 2},
};

std::string_view name_of(DrawPlace place) {
    return models::name_of<DrawPlace>(place, models::place_names);
}

std::string label(const Setting& setting) {
    return setting.name + ": " + setting.step_name;
}

/// Settings down, a few measures across, today's values on top.
Table first_look(const EffectsTable& effects, std::string title, std::span<const Shown> columns) {
    Table table{.title = std::move(title),
                .columns = {},
                .rows = {{}},
                .text_name = "setting: one step",
                .texts = {"(today's value)"}};
    for (const Setting& setting : effects.settings) table.texts.push_back(label(setting));
    table.rows.resize(table.texts.size());
    for (const Shown& shown : columns) {
        const Effect* effect = effects.find({shown.measure, shown.at});
        if (!effect) continue;  // no timing where there is one cam
        const models::Measure& measure = effect->of.measure;
        table.columns.push_back({shown.head, measure.unit, measure.definition, shown.digits});
        table.rows[0].push_back(effect->today);
        for (std::size_t i = 0; i < effect->change.size(); ++i)
            table.rows[i + 1].push_back(effect->change[i]);
    }
    return table;
}

/// Measures down, settings across.
Table every_measure(const EffectsTable& effects, DrawPlace place) {
    Table table{
        .title = place == DrawPlace::whole ? "The draw as a whole" : fmt::format("At {}", name_of(place)),
        .columns = {{"today", "", "value of the measure today", 3}},
        .rows = {},
        .text_name = "measure",
        .texts = {}};
    for (const Setting& setting : effects.settings)
        table.columns.push_back({label(setting), "", setting.definition, 4});
    for (const Effect& effect : effects.effects) {
        if (effect.of.at != place) continue;
        table.texts.push_back(effect.of.measure.name + " [" + effect.of.measure.unit + "]");
        table.rows.push_back({effect.today});
        table.rows.back().insert(table.rows.back().end(), effect.change.begin(), effect.change.end());
    }
    return table;
}

/// What is held while a setting changes, for people.
std::string held_text(const EffectsTable& effects, const models::Bow& bow) {
    std::string text = "Change of each measure for one step of one setting, to first order.\n";
    text += effects.lengths == LengthRule::kept
                ? "String and cables keep their natural lengths; twists change them.\n"
                : "String and cables are re-timed: their lengths change so that what is measured at brace "
                  "stays as it\n"
                  "is today, and twists of string and cables change nothing.\n";
    if (!bow.shooter.draw_length)
        text += "Full draw: the nocking point stays where today's draw to the stops ends.\n";
    return text;
}

void print_tables(const EffectsTable& effects, const models::Bow& bow, bool all) {
    fmt::print("{}\n\n{}", bow.name, held_text(effects, bow));
    if (all) {
        for (const auto& place : models::place_names)
            fmt::print("\n{}", to_text(every_measure(effects, place.value)));
        return;
    }
    fmt::print("\n{}", to_text(first_look(effects, "At brace", at_brace)));
    fmt::print("\n{}", to_text(first_look(effects, "At full draw", at_full_draw)));
}

Json to_json(const EffectsTable& effects, const std::string& bow) {
    Json settings = Json::array(), rows = Json::array();
    for (const Setting& s : effects.settings) {
        const models::Unit unit = s.dimension ? s.dimension->units.front() : models::Unit{"", 1};
        settings.push_back({{"name", s.name},
                            {"step_name", s.step_name},
                            {"step", s.step / unit.factor},
                            {"unit", unit.name},
                            {"definition", s.definition}});
    }
    for (const Effect& e : effects.effects) {
        Json change = Json::array();
        for (const double value : e.change) change.push_back(finite_or_null(value));
        const models::Measure& m = e.of.measure;
        rows.push_back({{"id", m.id},
                        {"measure", m.name},
                        {"at", name_of(e.of.at)},
                        {"unit", m.unit},
                        {"definition", m.definition},
                        {"today", finite_or_null(e.today)},
                        {"change", std::move(change)}});
    }
    return json_document("effects", {{"bow", bow},
                                     {"lengths", effects.lengths == LengthRule::kept ? "kept" : "re-timed"},
                                     {"settings", std::move(settings)},
                                     {"effects", std::move(rows)}});
}

}  // namespace

int command_effects(const EffectsArguments& arguments) {
    const models::Bow bow = models::read_bow(arguments.bow);
    const double spacer = arguments.spacer.value_or(models::thinnest_spacer(bow));
    if (!(spacer > 0 && spacer <= models::tip_gap(bow)))
        throw UsageError{
            fmt::format("--spacer must be above 0 mm and no thicker than the gap of {:.4g} mm, but is "
                        "{:.4g} mm",
                        models::tip_gap(bow), spacer)};
    const std::optional<models::StrungBow> strung_up = strung_or_told(bow);
    if (!strung_up) return 1;
    const models::StrungBow& strung = *strung_up;
    const models::Draw draw = models::draw(strung);
    if (draw.failure) {
        fmt::print(stderr, "{}\n", *draw.failure);
        return 1;
    }
    for (const std::string& warning : draw.warnings) fmt::print(stderr, "warning: {}\n", warning);
    const EffectsTable effects =
        effects_table(strung, draw, arguments.lengths, models::settings_of(bow, spacer));
    if (arguments.json)
        fmt::print("{}\n", to_json(effects, bow.name).dump(1));
    else
        print_tables(effects, bow, arguments.all);
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
