#include "postproc/results/ranking_results.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <type_traits>

#include "models/bow/spacers.hpp"
#include "models/input/enum_names.hpp"

namespace limbwright::postproc {
namespace {

using models::Aim;
using models::Choice;
using models::Quantity;
using models::RankedLayout;
using models::ReworkKind;
using models::Setting;
using models::SpacerStacks;
using models::Wish;

constexpr std::array forgiveness{"forgiveness_arrow_yaw", "forgiveness_nock_travel"};
constexpr std::array kinds{
    Choice<ReworkKind>{"none", ReworkKind::none}, Choice<ReworkKind>{"keys", ReworkKind::keys},
    Choice<ReworkKind>{"twists", ReworkKind::twists}, Choice<ReworkKind>{"spacers", ReworkKind::spacers},
    Choice<ReworkKind>{"limbs", ReworkKind::limbs}};

// Decimal places in the ranking: an offset is half of a difference of spacers.
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
        const std::string_view kind = name_of(l.rework.kind);
        return l.rework.parts == 0 ? std::string(kind) : fmt::format("{} {}", kind, l.rework.parts);
    });
    for (const Aim& aim : results.study.aims) {
        const models::Measure& measure = measure_of(results, aim.quantity);
        add_column(table, {in_words(aim.quantity, results.columns), measure.unit, "", measure.digits},
                   layouts, [&](const RankedLayout& l) { return value_of(results, aim.quantity, l.values); });
    }
    return table;
}

std::string aim_words(const RankingResults& results, const Aim& aim) {
    const std::string& unit = measure_of(results, aim.quantity).unit;
    const std::string wish = aim.wish == Wish::least  ? "as small as can be"
                             : aim.wish == Wish::most ? "as large as can be"
                                                      : fmt::format("{} wanted", with_unit(aim.target, unit));
    return fmt::format("{}: {}{}, weight {:g}", in_words(aim.quantity, results.columns), wish,
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
    return text + fmt::format("  rework from today's layout: {}\n", to_words(best.rework));
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
        text += "  " +
                paragraph(
                    fmt::format("layout {}: {}", results.failures[i].number, results.failures[i].failure), 4);
    if (results.failures.size() > shown)
        text += fmt::format("  and {} more\n", results.failures.size() - shown);
    return text;
}

}  // namespace

RankingResults results_of(const models::StudyBase& base, models::Ranking ranking) {
    return {std::move(ranking),
            base.today().bow.bow,
            base.study(),
            {},
            {},
            base.columns(),
            base.product().varied(),
            {}};
}

const models::Measure& measure_of(const RankingResults& results, const Quantity& quantity) {
    return results.columns[index_of({quantity.measure, quantity.at}, results.columns)].measure;
}

double value_of(const RankingResults& results, const Quantity& quantity, const std::vector<double>& values) {
    const double value = values.at(index_of({quantity.measure, quantity.at}, results.columns));
    return quantity.less.empty() ? value
                                 : value - values.at(index_of({quantity.less, quantity.at}, results.columns));
}

std::string_view name_of(ReworkKind kind) {
    return models::name_of<ReworkKind>(kind, kinds);
}

std::string to_words(const models::Rework& rework) {
    const std::string_view kind = name_of(rework.kind);
    if (rework.parts == 0) return std::string(kind);
    return fmt::format("{}, {} {}", kind, rework.parts, rework.parts == 1 ? "part" : "parts");
}

std::vector<Setting> other_settings(const RankingResults& results) {
    std::vector<Setting> others;
    for (const Setting& s : results.settings)
        if (!s.name.starts_with("limb number") && !s.name.starts_with("spacers")) others.push_back(s);
    return others;
}

std::string unit_of(const Setting& setting) {
    return setting.dimension == nullptr ? "" : std::string(setting.dimension->units.front().name);
}

double in_its_unit(double inside, const Setting& setting) {
    return setting.dimension == nullptr ? inside : inside / setting.dimension->units.front().factor;
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

Table forgiveness_table(const RankingResults& results, int count) {
    Table table{.title = "Forgiveness at full draw: what a newton-metre of the hand's yaw torque does",
                .columns = {},
                .rows = {{}},
                .text_name = "layout",
                .texts = {"today"}};
    const std::size_t shown = std::min(static_cast<std::size_t>(count), results.best.size());
    for (std::size_t i = 1; i <= shown; ++i) {
        table.texts.push_back(fmt::format("best {}", i));
        table.rows.emplace_back();
    }
    for (const char* id : forgiveness) {
        const models::Quantity quantity{id, "", models::DrawPlace::full_draw};
        const models::Measure& measure = measure_of(results, quantity);
        table.columns.push_back({measure.name, measure.unit, measure.definition, measure.digits});
        table.rows[0].push_back(value_of(results, quantity, results.today.values));
        for (std::size_t i = 0; i < shown; ++i)
            table.rows[i + 1].push_back(value_of(results, quantity, results.best[i].values));
    }
    return table;
}

}  // namespace limbwright::postproc
