#include "postproc/results/ranking_results.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <type_traits>

#include "models/bow/spacers.hpp"
#include "models/input/enum_names.hpp"
#include "postproc/output/table.hpp"

namespace limbwright::postproc {
namespace {

using models::Aim;
using models::Choice;
using models::DrawPlace;
using models::Quantity;
using models::Setting;
using models::SpacerStacks;
using models::Wish;

constexpr std::array places_in_tables{
    Choice<DrawPlace>{"at brace", DrawPlace::brace}, Choice<DrawPlace>{"at peak", DrawPlace::peak},
    Choice<DrawPlace>{"at full draw", DrawPlace::full_draw}, Choice<DrawPlace>{"", DrawPlace::whole}};

std::size_t index_of(const RankingResults& results, const std::string& measure, DrawPlace at) {
    const models::RecordedMeasure wanted{.measure = measure, .unit = "", .at = at};
    const auto found = std::find_if(results.columns.begin(), results.columns.end(),
                                    [&](const RankedColumn& c) { return c.column == wanted; });
    if (found == results.columns.end())
        throw std::invalid_argument(fmt::format("ranking: no column holds \"{}\"", measure));
    return static_cast<std::size_t>(found - results.columns.begin());
}

// Decimal places_in_tables in the ranking: an offset is half of a difference of spacers.
constexpr int setting_digits = 2;

std::string with_unit(double value, const std::string& unit) {
    value += 0.0;  // or −0 would be written with its sign
    return unit.empty() || unit == "1" ? fmt::format("{:g}", value) : fmt::format("{:g} {}", value, unit);
}

std::string pairing_words(const models::Bow& bow, const models::Pairing& p) {
    if (bow.limb.kind == models::LimbKind::solid)
        return fmt::format("{:g} / {:g}", p.top_left, p.bottom_left);
    return fmt::format("{:g} {:g} / {:g} {:g}", p.top_left, p.top_right, p.bottom_left, p.bottom_right);
}

/// What a column of words or numbers shows of a layout.
template <class Value>
void add_column(Table& table, Column column, const std::vector<const RankedLayout*>& layouts,
                const Value& value) {
    for (std::size_t i = 0; i < layouts.size(); ++i) {
        if constexpr (std::is_convertible_v<decltype(value(*layouts[i])), std::string>) {
            column.words.push_back(value(*layouts[i]));
            table.rows[i].push_back(NAN);
        } else {
            table.rows[i].push_back(value(*layouts[i]));
        }
    }
    table.columns.push_back(std::move(column));
}

/// "3", "3 !" with a broken limit, "3 (today)" where the best ones hold today's layout.
std::string rank_words(const RankingResults& results, std::size_t rank, const RankedLayout& layout) {
    std::string words = rank == 0 ? "today" : std::to_string(rank);
    if (rank > 0 && layout.number == results.today.number) words += " (today)";
    return layout.score.broken.empty() ? words : words + " !";
}

std::vector<const RankedLayout*> today_and_best(const RankingResults& results) {
    std::vector<const RankedLayout*> all{&results.today};
    for (const RankedLayout& layout : results.best) all.push_back(&layout);
    return all;
}

Table ranking_table(const RankingResults& results) {
    const std::vector<const RankedLayout*> layouts = today_and_best(results);
    Table table{.title = fmt::format("Layouts ranked by \"{}\"", results.study.name),
                .columns = {},
                .rows = std::vector<std::vector<double>>(layouts.size()),
                .text_name = "rank",
                .texts = {}};
    for (std::size_t i = 0; i < layouts.size(); ++i)
        table.texts.push_back(rank_words(results, i, *layouts[i]));
    const bool is_split = results.bow.limb.kind == models::LimbKind::split;
    add_column(table,
               {is_split ? "limbs, top left right / bottom left right" : "limbs, top / bottom", "", ""},
               layouts, [&](const RankedLayout& l) { return pairing_words(results.bow, l.layout.pairing); });
    add_column(table, {"top cam offset", "mm", "", offset_digits}, layouts,
               [](const RankedLayout& l) { return models::cam_offset(l.layout.spacers_top); });
    add_column(table, {"bottom cam offset", "mm", "", offset_digits}, layouts,
               [](const RankedLayout& l) { return models::cam_offset(l.layout.spacers_bottom); });
    for (const Setting& setting : other_settings(results))
        add_column(table, {setting.name, unit_of(setting), "", setting_digits}, layouts,
                   [&](const RankedLayout& l) { return in_its_unit(setting.get(l.layout), setting); });
    add_column(table, {"score", "", "", 3}, layouts, [](const RankedLayout& l) { return l.score.miss; });
    add_column(table, {"rework, parts", "", ""}, layouts, [](const RankedLayout& l) {
        const char* tools = models::name_of_tools(l.rework.tools());
        return l.rework.parts == 0 ? std::string(tools) : fmt::format("{} {}", tools, l.rework.parts);
    });
    for (const Aim& aim : results.study.aims) {
        const RankedColumn& column = column_of(results, aim.quantity);
        add_column(table, {to_words(aim.quantity), column.column.unit, "", column.digits}, layouts,
                   [&](const RankedLayout& l) { return value_of(results, aim.quantity, l.values); });
    }
    return table;
}

std::string aim_words(const RankingResults& results, const Aim& aim) {
    const std::string& unit = column_of(results, aim.quantity).column.unit;
    const std::string wish = aim.wish == Wish::least  ? "as small as can be"
                             : aim.wish == Wish::most ? "as large as can be"
                                                      : fmt::format("{} wanted", with_unit(aim.target, unit));
    return fmt::format("{}: {}{}, weight {:g}", to_words(aim.quantity), wish,
                       aim.within > 0 ? fmt::format(", to within {}", with_unit(aim.within, unit)) : "",
                       aim.weight);
}

std::string stack_words(const std::vector<double>& stack) {
    if (stack.empty()) return "none";
    return fmt::format("{:g} mm", fmt::join(stack, " + "));
}

std::string spacer_words(const std::string& end, const SpacerStacks& stacks) {
    const double offset = models::cam_offset(stacks);
    constexpr double shown_as_zero = 0.0005;  // mm
    const std::string side =
        std::abs(offset) < shown_as_zero
            ? "in the middle"
            : fmt::format("{:.4g} mm to the {}", std::abs(offset), offset > 0 ? "left" : "right");
    return fmt::format("{} spacers: left {}, right {} (cam {})", end, stack_words(stacks.left),
                       stack_words(stacks.right), side);
}

std::string best_words(const RankingResults& results) {
    const RankedLayout& best = results.best.front();
    const models::Pairing& p = best.layout.pairing;
    std::string text = "How the best layout is built, left and right as the archer sees them:\n";
    if (results.bow.limb.kind == models::LimbKind::solid)
        text += fmt::format("  top: limb {:g}; bottom: limb {:g}\n", p.top_left, p.bottom_left);
    else
        text += fmt::format(
            "  top left: limb {:g}; top right: limb {:g}\n  bottom left: limb {:g}; bottom right: limb "
            "{:g}\n",
            p.top_left, p.top_right, p.bottom_left, p.bottom_right);
    text += "  " + paragraph(spacer_words("top", best.layout.spacers_top), 4);
    text += "  " + paragraph(spacer_words("bottom", best.layout.spacers_bottom), 4);
    for (const Setting& s : other_settings(results))
        text += fmt::format("  {}: {}\n", s.name, with_unit(in_its_unit(s.get(best.layout), s), unit_of(s)));
    return text + fmt::format("  rework from today's layout: {}\n", models::to_text(best.rework));
}

std::string broken_words(const RankingResults& results) {
    std::string text;
    const std::vector<const RankedLayout*> layouts = today_and_best(results);
    for (std::size_t i = 0; i < layouts.size(); ++i)
        for (const std::string& limit : layouts[i]->score.broken)
            text += "  " + paragraph(rank_words(results, i, *layouts[i]) + ": " + limit, 4);
    return text.empty() ? text : "! A limit of the study does not hold:\n" + text + "\n";
}

std::string run_words(const RankingResults& results) {
    constexpr std::size_t shown = 5;
    std::string text;
    for (const std::string& note : results.notes) text += paragraph(note, 2);
    if (results.failures.empty()) return text;
    text += fmt::format("Layouts that could not be solved: {}\n", results.failures.size());
    for (std::size_t i = 0; i < std::min(shown, results.failures.size()); ++i)
        text +=
            "  " +
            paragraph(fmt::format("layout {}: {}", results.failures[i].first, results.failures[i].second), 4);
    if (results.failures.size() > shown)
        text += fmt::format("  and {} more\n", results.failures.size() - shown);
    return text;
}

}  // namespace

const RankedColumn& column_of(const RankingResults& results, const Quantity& quantity) {
    return results.columns[index_of(results, quantity.measure, quantity.at)];
}

double value_of(const RankingResults& results, const Quantity& quantity, const std::vector<double>& values) {
    const double value = values.at(index_of(results, quantity.measure, quantity.at));
    return quantity.less.empty() ? value : value - values.at(index_of(results, quantity.less, quantity.at));
}

std::string to_words(const Quantity& quantity) {
    std::string words = quantity.measure;
    if (!quantity.less.empty()) words += " less " + quantity.less;
    const std::string_view place = models::name_of<DrawPlace>(quantity.at, places_in_tables);
    return place.empty() ? words : fmt::format("{} {}", words, place);
}

std::vector<Setting> other_settings(const RankingResults& results) {
    std::vector<Setting> others;
    for (const Setting& s : results.settings)
        if (s.work < models::Work::spacers) others.push_back(s);
    return others;
}

std::string to_text(const RankingResults& results) {
    std::string text = to_text(ranking_table(results)) + "\n";
    text += paragraph(
        "Cam offsets are positive to the archer's left. The score is the sum of weight × miss "
        "over these aims, and less is better:");
    for (const Aim& aim : results.study.aims) text += "  " + paragraph(aim_words(results, aim), 4);
    text += "\n" + broken_words(results);
    if (!results.best.empty()) text += best_words(results) + "\n";
    return text + run_words(results);
}

}  // namespace limbwright::postproc
