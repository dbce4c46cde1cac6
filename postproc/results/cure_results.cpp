#include "postproc/results/cure_results.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "models/tuning/rebuild_steps.hpp"
#include "models/tuning/tear_measures.hpp"
#include "postproc/output/json_document.hpp"
#include "postproc/output/table.hpp"

namespace limbwright::postproc {
namespace {

using Json = nlohmann::ordered_json;
using models::Cure;
using models::CureMeasure;
using models::Practice;
using models::PracticeVerdict;

const char* verdict(const Practice& practice) {
    switch (practice.verdict) {
        case PracticeVerdict::agrees:
            return "agrees";
        case PracticeVerdict::disagrees:
            return "disagrees";
        case PracticeVerdict::indifferent:
            break;
    }
    return "is indifferent";
}

std::string reading(const CureResults& results) {
    const models::SolvedTune& today = results.solver.today();
    Table table{.title = "What the model knows of the tear (static, today's bow)",
                .columns = {{"value", "", "of the measure today", 3}},
                .rows = {},
                .text_name = "measure",
                .texts = {}};
    for (const models::DrawMeasure& m : models::tear_measures()) {
        table.texts.push_back(fmt::format("{} [{}]", m.name, m.unit));
        table.rows.push_back({m.value(today.strung, today.draw)});
    }
    std::string text = to_text(table) + "\n";
    const models::Wanted& wanted = results.cures.wanted;
    const auto direction = [&](int i, const char* positive, const char* negative) {
        if (wanted.directions[i] == 0) return;
        text += paragraph(fmt::format(
            "The string carries the tail {:.2f} deg {} from full draw to brace; in the paper the arrow stood "
            "{:.2f} deg tail {}.",
            std::abs(wanted.turn[i]), wanted.turn[i] > 0 ? positive : negative, std::abs(wanted.angle[i]),
            wanted.angle[i] > 0 ? positive : negative));
    };
    direction(0, "left", "right");
    direction(1, "high", "low");
    const auto contradiction = [&](int i, const char* measure) {
        const double slope = models::tear_measure(measure, today.strung, today.draw);
        if (wanted.directions[i] == 0 || slope * wanted.turn[i] >= 0) return;
        text += paragraph(fmt::format(
            "Over the last 3 in the tail is heading the other way, by {:.2f} deg: the model is of two minds.",
            std::abs(slope)));
    };
    contradiction(0, "end slope, lateral");
    contradiction(1, "end slope, vertical");
    text +=
        paragraph(wanted.seen ? "The bow's statics point the same way as the tear: cures bring that turn to "
                                "zero."
                              : "The bow's statics do not explain this tear. Look first at what follows; the "
                                "cures below turn the tail against it all the same.");
    text += "What a static model cannot see:\n";
    for (const char* unseen : models::unseen_by_statics())
        text += paragraph(std::string("- ") + unseen + ".", 2);
    if (results.shaft) text += paragraph("Shaft: " + models::to_text(*results.shaft) + ".");
    return text;
}

std::string practice_text(const std::vector<Practice>& practice) {
    if (practice.empty()) return {};
    std::string text = "\nCommon practice, held against the model\n";
    for (const Practice& p : practice)
        text += paragraph(
            fmt::format("- \"{}\": the model {} ({}: {}).", p.statement, verdict(p), p.tried, p.why), 2);
    return text;
}

const CureMeasure* find(const Cure& cure, std::string_view name) {
    const auto found = std::ranges::find(cure.measures, name, &CureMeasure::name);
    return found == cure.measures.end() ? nullptr : &*found;
}

/// Cures down, a few measures across, today's values on top.
Table overview(const CureResults& results) {
    struct Shown {
        const char *measure, *head;
    };
    constexpr Shown shown[] = {
        {"tail turn, lateral", "tail turn lateral"},
        {"tail turn, vertical", "tail turn vertical"},
        {"nock travel, lateral, largest", "nock travel largest"},
        {"cam lean, top, at full draw", "lean top"},
        {"cam lean, bottom, at full draw", "lean bottom"},
        {"forgiveness, arrow yaw", "forgive- ness"},
        {"timing, at full draw", "timing"},
        {"clearance, smallest", "clear- ance"},
        {"guide side force, at full draw", "guide force"},
    };
    const std::vector<Cure>& ranked = results.cures.ranked;
    Table table{.title = "Before and after (leans, timing, forgiveness and guide force at full draw)",
                .columns = {{"answers", "%", "share of what is wanted", 0}},
                .rows = {{0}},
                .text_name = "cure",
                .texts = {"today"}};
    for (std::size_t i = 0; i < ranked.size(); ++i) {
        table.texts.push_back(fmt::format("{}", i + 1));
        table.rows.push_back({100 * ranked[i].answered});
    }
    for (const Shown& s : shown) {
        const CureMeasure* first = find(ranked.front(), s.measure);
        if (!first) continue;
        table.columns.push_back({s.head, first->unit, first->definition, first->digits});
        table.rows[0].push_back(first->before);
        for (std::size_t i = 0; i < ranked.size(); ++i)
            table.rows[i + 1].push_back(find(ranked[i], s.measure)->after);
        if (!first->before_sigma) continue;
        table.columns.push_back({"±", first->unit, "its standard deviation, given the match", first->digits});
        table.rows[0].push_back(*first->before_sigma);
        for (std::size_t i = 0; i < ranked.size(); ++i)
            table.rows[i + 1].push_back(find(ranked[i], s.measure)->after_sigma.value_or(NAN));
    }
    return table;
}

std::string cures_text(const CureResults& results) {
    const std::vector<Cure>& ranked = results.cures.ranked;
    if (ranked.empty()) return "\nNo change within reach answers this tear.\n";
    std::string text = "\nCures, least work first\n";
    for (std::size_t i = 0; i < ranked.size(); ++i) {
        const Cure& cure = ranked[i];
        std::vector<std::string> worse;
        for (const CureMeasure& m : cure.measures)
            if (m.worse()) worse.push_back(models::to_text(m));
        text += paragraph(
            fmt::format("{}. {} ({}): answers {}.{}", i + 1, cure.text, models::to_text(cure.rework),
                        answered_text(cure),
                        worse.empty() ? "" : fmt::format(" Gets worse: {}.", fmt::join(worse, "; "))),
            3);
    }
    text += "\n" + to_text(overview(results));
    if (!results.foresights.empty() && !results.foresights.front().measure_first.empty())
        text += paragraph(fmt::format(
            "± is one standard deviation, as far as the measurements tell the bow. What "
            "would make cure 1 surer: measure {} (then ± {:.0f} %).",
            results.foresights.front().measure_first, 100 * results.foresights.front().sure_then));
    if (!results.cures.notes.empty()) text += "\nTried, too\n";
    for (const std::string& note : results.cures.notes) text += paragraph("- " + note, 2);
    return text;
}

Json to_json(const models::Layout& l, const models::Bow& bow) {
    const auto stacks = [](const models::SpacerStacks& s) {
        return Json{{"left", s.left}, {"right", s.right}};
    };
    Json all{{"limbs",
              {{"top_left", l.pairing.top_left},
               {"top_right", l.pairing.top_right},
               {"bottom_left", l.pairing.bottom_left},
               {"bottom_right", l.pairing.bottom_right}}},
             {"spacers_top_mm", stacks(l.spacers_top)},
             {"spacers_bottom_mm", stacks(l.spacers_bottom)},
             {"guide_lateral_mm", l.guide_lateral},
             {"bolt_turns_top", l.bolt_top},
             {"bolt_turns_bottom", l.bolt_bottom},
             {"twist_cables", l.twist_cables},
             {"twist_yoke_left", l.twist_yoke_left},
             {"twist_yoke_right", l.twist_yoke_right}};
    for (const models::Setting& s : models::settings_of(bow))
        if (s.in_bow || s.work == models::Work::nocking_point)
            all[fmt::format("{}_{}", s.key, unit_of(s))] = in_its_unit(s.get(l), s);
    return all;
}

Json to_json(const Cure& cure, const CureResults& results) {
    Json measures = Json::array(), steps = Json::array();
    for (const CureMeasure& m : cure.measures)
        measures.push_back({{"name", m.name},
                            {"unit", m.unit},
                            {"definition", m.definition},
                            {"before", finite_or_null(m.before)},
                            {"after", finite_or_null(m.after)},
                            {"before_sigma", finite_or_null(m.before_sigma.value_or(NAN))},
                            {"after_sigma", finite_or_null(m.after_sigma.value_or(NAN))},
                            {"worse", m.worse()}});
    const models::SolvedTune& today = results.solver.today();
    for (const models::Step& step :
         models::bench_steps(today.strung.bow.bow, today.layout, cure.layout, cure.lengths))
        steps.push_back(step.text);
    return {{"change", cure.text},
            {"rework", models::to_text(cure.rework)},
            {"answered", cure.answered},
            {"answered_sigma", finite_or_null(cure.answered_sigma.value_or(NAN))},
            {"lengths", cure.lengths == models::LengthRule::kept ? "kept" : "re-timed"},
            {"tune", to_json(cure.layout, today.strung.bow.bow)},
            {"measures", std::move(measures)},
            {"steps", std::move(steps)}};
}

}  // namespace

std::string answered_text(const Cure& cure) {
    return cure.answered_sigma
               ? fmt::format("{:.0f} ± {:.0f} %", 100 * cure.answered, 100 * *cure.answered_sigma)
               : fmt::format("{:.0f} %", 100 * cure.answered);
}

std::string to_text(const CureResults& results) {
    const models::Bow& bow = results.solver.today().strung.bow.bow;
    std::string head = fmt::format("{}\nPaper tear: {}", bow.name, models::to_text(results.tear));
    if (results.tear.distance > 0) head += fmt::format(", at {:.3g} m", results.tear.distance / 1000);
    return head + "\n\n" + reading(results) + practice_text(results.practice) + cures_text(results);
}

Json to_json(const CureResults& results) {
    const models::SolvedTune& today = results.solver.today();
    Json reading = Json::array(), practice = Json::array(), cures = Json::array();
    for (const models::DrawMeasure& m : models::tear_measures())
        reading.push_back({{"name", m.name},
                           {"unit", m.unit},
                           {"definition", m.definition},
                           {"value", finite_or_null(m.value(today.strung, today.draw))}});
    for (const Practice& p : results.practice)
        practice.push_back({{"statement", p.statement},
                            {"tried", p.tried},
                            {"model", verdict(p)},
                            {"tail_turn_change_deg", finite_or_null(p.turn)},
                            {"end_slope_change_deg", finite_or_null(p.slope)},
                            {"why", p.why}});
    for (const Cure& cure : results.cures.ranked) cures.push_back(to_json(cure, results));
    Json all{{"bow", today.strung.bow.bow.name},
             {"tear",
              {{"left_mm", results.tear.left},
               {"high_mm", results.tear.high},
               {"distance_mm", results.tear.distance}}},
             {"reading", std::move(reading)},
             {"explained_by_statics", results.cures.wanted.seen}};
    if (results.shaft)
        all["shaft"] = {{"ratio", results.shaft->ratio}, {"verdict", models::to_text(*results.shaft)}};
    all["practice"] = std::move(practice);
    all["cures"] = std::move(cures);
    all["notes"] = results.cures.notes;
    return json_document("cure", all);
}

}  // namespace limbwright::postproc
