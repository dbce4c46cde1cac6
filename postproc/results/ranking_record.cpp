#include "postproc/results/ranking_record.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "models/bow/spacers.hpp"
#include "models/input/enum_names.hpp"
#include "postproc/output/json_document.hpp"

namespace limbwright::postproc {
namespace {

using Json = nlohmann::ordered_json;
using models::Choice;
using models::DrawPlace;
using models::Setting;
using models::Wish;

const std::string schema_version = "1";

constexpr std::array places{
    Choice<DrawPlace>{"brace", DrawPlace::brace}, Choice<DrawPlace>{"peak", DrawPlace::peak},
    Choice<DrawPlace>{"full draw", DrawPlace::full_draw}, Choice<DrawPlace>{"whole draw", DrawPlace::whole}};
constexpr std::array wishes{Choice<Wish>{"target", Wish::target}, Choice<Wish>{"least", Wish::least},
                            Choice<Wish>{"most", Wish::most}};

std::string_view place_name(DrawPlace place) {
    return models::name_of<DrawPlace>(place, places);
}

void append(const std::string& what, std::int64_t number, const std::vector<double>& from, std::size_t wanted,
            std::vector<double>& to) {
    if (from.size() != wanted)
        throw std::invalid_argument(
            fmt::format("ranking: layout {} has {} {}, not {}", number, from.size(), what, wanted));
    to.insert(to.end(), from.begin(), from.end());
}

/// What is filed of all solved layouts and of the best ones alike, row after row.
class LayoutColumns {
public:
    LayoutColumns(const RankingResults& results, std::size_t rows)
        : settings_wanted_(results.settings), columns_wanted_(results.columns.size()), rows_(rows) {
        for (std::vector<double>* list : {&number_, &score_, &broken_, &kind_, &parts_}) list->reserve(rows);
        values_.reserve(rows * columns_wanted_);
        settings_.reserve(rows * settings_wanted_.size());
    }

    void add(const SolvedLayout& layout) {
        number_.push_back(static_cast<double>(layout.number));
        score_.push_back(layout.score);
        broken_.push_back(layout.broken_limits);
        kind_.push_back(layout.rework.tools());
        parts_.push_back(layout.rework.parts);
        append("values", layout.number, layout.values, columns_wanted_, values_);
        const std::size_t first = settings_.size();
        append("settings", layout.number, layout.settings, settings_wanted_.size(), settings_);
        for (std::size_t s = 0; s < settings_wanted_.size(); ++s)
            settings_[first + s] = in_its_unit(settings_[first + s], settings_wanted_[s]);
    }

    [[nodiscard]] Group group(const std::string& name) && {
        return {
            .name = name,
            .attributes = {},
            .numbers =
                {{"number",
                  "",
                  "of the layout in the product; negative: not of it",
                  {rows_},
                  std::move(number_)},
                 {"score",
                  "",
                  "sum of weight × miss over the study's aims; less is better",
                  {rows_},
                  std::move(score_)},
                 {"broken_limits",
                  "",
                  "how many limits of the study do not hold",
                  {rows_},
                  std::move(broken_)},
                 {"rework_kind",
                  "",
                  "work that the layout needs from today's: 0 none, 1 keys, 2 twists, 3 spacers, 4 "
                  "limbs; each includes those before it",
                  {rows_},
                  std::move(kind_)},
                 {"rework_parts",
                  "",
                  "parts that go to another place and settings that change",
                  {rows_},
                  std::move(parts_)},
                 {"values", "see /columns", "layout, column", {rows_, columns_wanted_}, std::move(values_)},
                 {"settings",
                  "see /settings",
                  "layout, varied setting",
                  {rows_, settings_wanted_.size()},
                  std::move(settings_)}},
            .texts = {},
            .groups = {}};
    }

private:
    const std::vector<Setting>& settings_wanted_;
    std::size_t columns_wanted_, rows_;
    std::vector<double> number_, score_, broken_, kind_, parts_, values_, settings_;
};

std::string spacer_words(const models::SpacerStacks& stacks) {
    return fmt::format("left [{:g}] right [{:g}]", fmt::join(stacks.left, " "), fmt::join(stacks.right, " "));
}

Group ranked_group(const RankingResults& results, const std::string& name,
                   const std::vector<RankedLayout>& layouts) {
    const std::size_t rows = layouts.size();
    LayoutColumns columns(results, rows);
    Numbers pairing{
        "pairing", "", "limb numbers: layout; top left, top right, bottom left, bottom right", {rows, 4}, {}};
    Numbers offsets{"cam_offsets", "mm", "positive left: layout; top, bottom", {rows, 2}, {}};
    Texts top{"spacers_top", "stacks from the limb inward, in mm", true, {}};
    Texts bottom{"spacers_bottom", "stacks from the limb inward, in mm", true, {}};
    Texts broken{"broken_limits_in_words", "empty where all limits hold", true, {}};
    for (const RankedLayout& ranked : layouts) {
        std::vector<double> settings;
        for (const Setting& s : results.settings) settings.push_back(s.get(ranked.layout));
        columns.add({.number = ranked.number,
                     .settings = std::move(settings),
                     .values = ranked.values,
                     .score = ranked.score.miss,
                     .broken_limits = static_cast<int>(ranked.score.broken.size()),
                     .rework = ranked.rework});
        const models::Layout& l = ranked.layout;
        pairing.values.insert(pairing.values.end(), {l.pairing.top_left, l.pairing.top_right,
                                                     l.pairing.bottom_left, l.pairing.bottom_right});
        offsets.values.insert(offsets.values.end(),
                              {models::cam_offset(l.spacers_top), models::cam_offset(l.spacers_bottom)});
        top.values.push_back(spacer_words(l.spacers_top));
        bottom.values.push_back(spacer_words(l.spacers_bottom));
        broken.values.push_back(fmt::format("{}", fmt::join(ranked.score.broken, "; ")));
    }
    Group group = std::move(columns).group(name);
    group.numbers.push_back(std::move(pairing));
    group.numbers.push_back(std::move(offsets));
    group.texts = {std::move(top), std::move(bottom), std::move(broken)};
    return group;
}

Group columns_group(const RankingResults& results) {
    Texts measures{"measures", "", true, {}};
    Texts places_of{"places", "where along the draw the measure is read", true, {}};
    Texts units{"units", "", true, {}};
    Texts definitions{"definitions", "with their signs", true, {}};
    for (const RankedColumn& c : results.columns) {
        measures.values.push_back(c.column.measure);
        places_of.values.push_back(std::string(place_name(c.column.at)));
        units.values.push_back(c.column.unit);
        definitions.values.push_back(c.definition);
    }
    return {.name = "columns",
            .attributes = {},
            .numbers = {},
            .texts = {measures, places_of, units, definitions},
            .groups = {}};
}

Group settings_group(const RankingResults& results) {
    Texts names{"names", "", true, {}};
    Texts units{"units", "empty for a plain number", true, {}};
    Texts definitions{"definitions", "with their signs", true, {}};
    for (const Setting& s : results.settings) {
        names.values.push_back(s.name);
        units.values.push_back(unit_of(s));
        definitions.values.push_back(s.definition);
    }
    return {.name = "settings",
            .attributes = {},
            .numbers = {},
            .texts = {names, units, definitions},
            .groups = {}};
}

Group failures_group(const RankingResults& results) {
    Numbers numbers{"number", "", "of the layout in the product", {results.failures.size()}, {}};
    Texts causes{"cause", "why it could not be solved", true, {}};
    for (const auto& [number, cause] : results.failures) {
        numbers.values.push_back(static_cast<double>(number));
        causes.values.push_back(cause);
    }
    return {.name = "failures", .attributes = {}, .numbers = {numbers}, .texts = {causes}, .groups = {}};
}

Json json_numbers(const std::vector<double>& values) {
    Json list = Json::array();
    for (const double value : values) list.push_back(finite_or_null(value));
    return list;
}

Json json_of(const RankingResults& results, const RankedLayout& ranked) {
    const models::Layout& layout = ranked.layout;
    const models::Pairing& p = layout.pairing;
    const auto stacks = [](const models::SpacerStacks& s) {
        return Json{{"left", s.left}, {"right", s.right}, {"cam_offset", models::cam_offset(s)}};
    };
    Json settings = Json::object();
    for (const Setting& s : other_settings(results))
        settings[s.name] = finite_or_null(in_its_unit(s.get(layout), s));
    Json aims = Json::array();
    for (const models::Aim& aim : results.study.aims)
        aims.push_back(finite_or_null(value_of(results, aim.quantity, ranked.values)));
    return {
        {"number", ranked.number},
        {"limbs",
         {{"top_left", p.top_left},
          {"top_right", p.top_right},
          {"bottom_left", p.bottom_left},
          {"bottom_right", p.bottom_right}}},
        {"spacers_top", stacks(layout.spacers_top)},
        {"spacers_bottom", stacks(layout.spacers_bottom)},
        {"settings", std::move(settings)},
        {"score", finite_or_null(ranked.score.miss)},
        {"aims", std::move(aims)},
        {"misses", json_numbers(ranked.score.misses)},
        {"broken_limits", ranked.score.broken},
        {"values", json_numbers(ranked.values)},
        {"rework", {{"kind", models::name_of_tools(ranked.rework.tools())}, {"parts", ranked.rework.parts}}}};
}

}  // namespace

Group to_tree(const RankingResults& results) {
    LayoutColumns rows(results, results.rows.size());
    for (const SolvedLayout& layout : results.rows) rows.add(layout);
    Group input{.name = "input",
                .attributes = {},
                .numbers = {},
                .texts = {{"bow_file", "text of the bow file, as it was read", false, {results.bow_file}},
                          {"study_file", "text of the study, as it was read", false, {results.study_file}}},
                .groups = {}};
    return {.name = "",
            .attributes = {{"limbwright_version", LIMBWRIGHT_VERSION}, {"schema_version", schema_version}},
            .numbers = {},
            .texts = {{"notes", "sentences about the run", true, results.notes}},
            .groups = {std::move(input), columns_group(results), settings_group(results),
                       std::move(rows).group("layouts"), ranked_group(results, "today", {results.today}),
                       ranked_group(results, "best", results.best), failures_group(results)}};
}

nlohmann::ordered_json to_json(const RankingResults& results) {
    Json columns = Json::array(), settings = Json::array(), aims = Json::array(), limits = Json::array(),
         best = Json::array(), failures = Json::array();
    for (const RankedColumn& c : results.columns)
        columns.push_back({{"measure", c.column.measure},
                           {"place", place_name(c.column.at)},
                           {"unit", c.column.unit},
                           {"definition", c.definition}});
    for (const Setting& s : other_settings(results))
        settings.push_back({{"name", s.name}, {"unit", unit_of(s)}, {"definition", s.definition}});
    for (const models::Aim& aim : results.study.aims)
        aims.push_back({{"quantity", to_words(aim.quantity)},
                        {"unit", column_of(results, aim.quantity).column.unit},
                        {"wish", models::name_of<Wish>(aim.wish, wishes)},
                        {"target", aim.wish == Wish::target ? finite_or_null(aim.target) : Json(nullptr)},
                        {"within", aim.within},
                        {"weight", aim.weight}});
    for (const models::Limit& limit : results.study.limits)
        limits.push_back({{"quantity", to_words(limit.quantity)},
                          {"unit", column_of(results, limit.quantity).column.unit},
                          {"at_least", finite_or_null(limit.at_least)},
                          {"at_most", finite_or_null(limit.at_most)}});
    for (const RankedLayout& layout : results.best) best.push_back(json_of(results, layout));
    for (const auto& [number, cause] : results.failures)
        failures.push_back({{"number", number}, {"cause", cause}});
    return json_document("ranking", {{"bow", results.bow.name},
                                     {"study", results.study.name},
                                     {"columns", std::move(columns)},
                                     {"settings", std::move(settings)},
                                     {"aims", std::move(aims)},
                                     {"limits", std::move(limits)},
                                     {"today", json_of(results, results.today)},
                                     {"best", std::move(best)},
                                     {"solved", results.rows.size()},
                                     {"failures", std::move(failures)},
                                     {"notes", results.notes}});
}

}  // namespace limbwright::postproc
