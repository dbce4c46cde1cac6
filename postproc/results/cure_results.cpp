#include "postproc/results/cure_results.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

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
using models::TearAnswer;

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

std::string reading(const TearAnswer& answer) {
    const models::SolvedTune& today = answer.solver.today();
    Table table{.title = "What the model knows of the tear (static, today's bow)",
                .columns = {{"value", "", "of the measure today", 3}},
                .rows = {},
                .text_name = "measure",
                .texts = {}};
    for (const models::Measure& m : models::tear_measures()) {
        table.texts.push_back(fmt::format("{} [{}]", m.name, m.unit));
        table.rows.push_back({m.value({today.strung.bow, today.draw})});
    }
    std::string text = to_text(table) + "\n";
    const models::Wanted& wanted = answer.cures.wanted;
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
    contradiction(0, "end_slope_lateral");
    contradiction(1, "end_slope_vertical");
    text +=
        paragraph(wanted.seen ? "The bow's statics point the same way as the tear: cures bring that turn to "
                                "zero."
                              : "The bow's statics do not explain this tear. Look first at what follows; the "
                                "cures below turn the tail against it all the same.");
    text += "What a static model cannot see:\n";
    for (const char* unseen : models::unseen_by_statics())
        text += paragraph(std::string("- ") + unseen + ".", 2);
    if (answer.shaft) text += paragraph("Shaft: " + models::to_text(*answer.shaft) + ".");
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

/// Cures down, a few measures across, today's values on top.
Table overview(const TearAnswer& answer) {
    using models::DrawPlace;
    struct Shown {
        const char* measure;
        DrawPlace at;
        const char* head;
    };
    constexpr Shown shown[] = {
        {"tail_turn_lateral", DrawPlace::whole, "tail turn lateral"},
        {"tail_turn_vertical", DrawPlace::whole, "tail turn vertical"},
        {"nock_travel_lateral_largest", DrawPlace::whole, "nock travel largest"},
        {"lean_top", DrawPlace::full_draw, "lean top"},
        {"lean_bottom", DrawPlace::full_draw, "lean bottom"},
        {"forgiveness_arrow_yaw", DrawPlace::whole, "forgive- ness"},
        {"timing_turns", DrawPlace::full_draw, "timing"},
        {"clearance_smallest", DrawPlace::whole, "clear- ance"},
        {"guide_side_force", DrawPlace::full_draw, "guide force"},
    };
    const std::vector<Cure>& ranked = answer.cures.ranked;
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
        const auto of = [&](const Cure& cure) { return find(cure.measures, {s.measure, s.at}); };
        const CureMeasure* first = of(ranked.front());
        if (!first) continue;
        const models::Measure& measure = first->of.measure;
        table.columns.push_back({s.head, measure.unit, measure.definition, measure.digits});
        table.rows[0].push_back(first->before);
        for (std::size_t i = 0; i < ranked.size(); ++i) table.rows[i + 1].push_back(of(ranked[i])->after);
        if (!first->before_sigma) continue;
        table.columns.push_back(
            {"±", measure.unit, "its standard deviation, given the match", measure.digits});
        table.rows[0].push_back(*first->before_sigma);
        for (std::size_t i = 0; i < ranked.size(); ++i)
            table.rows[i + 1].push_back(of(ranked[i])->after_sigma.value_or(NAN));
    }
    return table;
}

std::string cures_text(const TearAnswer& answer) {
    const std::vector<Cure>& ranked = answer.cures.ranked;
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
    text += "\n" + to_text(overview(answer));
    if (const auto& foresight = ranked.front().foresight; foresight && !foresight->measure_first.empty())
        text += paragraph(
            fmt::format("± is one standard deviation, as far as the measurements tell the bow. What "
                        "would make cure 1 surer: measure {} (then ± {:.0f} %).",
                        foresight->measure_first, 100 * foresight->sure_then));
    if (!answer.cures.notes.empty()) text += "\nTried, too\n";
    for (const std::string& note : answer.cures.notes) text += paragraph("- " + note, 2);
    return text;
}

Json to_json(const models::Tune& tune) {
    const models::Layout& l = tune.layout;
    const auto stacks = [](const models::SpacerStacks& s) {
        return Json{{"left", s.left}, {"right", s.right}};
    };
    return {{"limbs",
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
            {"twist_yoke_right", l.twist_yoke_right},
            {"rest_lateral_mm", tune.rest_lateral},
            {"rest_height_mm", tune.rest_height},
            {"nocking_point_mm", tune.nocking_point}};
}

Json to_json(const Cure& cure, const TearAnswer& answer) {
    Json measures = Json::array(), steps = Json::array();
    for (const CureMeasure& m : cure.measures)
        measures.push_back({{"id", m.of.measure.id},
                            {"name", in_words(m.of)},
                            {"unit", m.of.measure.unit},
                            {"definition", m.of.measure.definition},
                            {"before", finite_or_null(m.before)},
                            {"after", finite_or_null(m.after)},
                            {"before_sigma", finite_or_null(m.before_sigma.value_or(NAN))},
                            {"after_sigma", finite_or_null(m.after_sigma.value_or(NAN))},
                            {"worse", m.worse()}});
    const models::SolvedTune& today = answer.solver.today();
    for (const models::Step& step :
         models::bench_steps(today.strung.bow.bow, today.tune, cure.tune, cure.lengths))
        steps.push_back(step.text);
    return {
        {"change", cure.text},
        {"rework", models::to_text(cure.rework)},
        {"answered", cure.answered},
        {"answered_sigma", cure.foresight ? finite_or_null(cure.foresight->answered_sigma) : Json(nullptr)},
        {"lengths", cure.lengths == models::LengthRule::kept ? "kept" : "re-timed"},
        {"tune", to_json(cure.tune)},
        {"measures", std::move(measures)},
        {"steps", std::move(steps)}};
}

}  // namespace

std::string answered_text(const Cure& cure) {
    return cure.foresight
               ? fmt::format("{:.0f} ± {:.0f} %", 100 * cure.answered, 100 * cure.foresight->answered_sigma)
               : fmt::format("{:.0f} %", 100 * cure.answered);
}

std::string to_text(const TearAnswer& answer) {
    const models::Bow& bow = answer.solver.today().strung.bow.bow;
    std::string head = fmt::format("{}\nPaper tear: {}", bow.name, models::to_text(answer.tear));
    if (answer.tear.distance > 0) head += fmt::format(", at {:.3g} m", answer.tear.distance / 1000);
    return head + "\n\n" + reading(answer) + practice_text(answer.practice) + cures_text(answer);
}

Json to_json(const TearAnswer& answer) {
    const models::SolvedTune& today = answer.solver.today();
    Json reading = Json::array(), practice = Json::array(), cures = Json::array();
    for (const models::Measure& m : models::tear_measures())
        reading.push_back({{"id", m.id},
                           {"name", m.name},
                           {"unit", m.unit},
                           {"definition", m.definition},
                           {"value", finite_or_null(m.value({today.strung.bow, today.draw}))}});
    for (const Practice& p : answer.practice)
        practice.push_back({{"statement", p.statement},
                            {"tried", p.tried},
                            {"model", verdict(p)},
                            {"tail_turn_change_deg", finite_or_null(p.turn)},
                            {"end_slope_change_deg", finite_or_null(p.slope)},
                            {"why", p.why}});
    for (const Cure& cure : answer.cures.ranked) cures.push_back(to_json(cure, answer));
    Json all{{"bow", today.strung.bow.bow.name},
             {"tear",
              {{"left_mm", answer.tear.left},
               {"high_mm", answer.tear.high},
               {"distance_mm", answer.tear.distance}}},
             {"reading", std::move(reading)},
             {"explained_by_statics", answer.cures.wanted.seen}};
    if (answer.shaft)
        all["shaft"] = {{"ratio", answer.shaft->ratio}, {"verdict", models::to_text(*answer.shaft)}};
    all["practice"] = std::move(practice);
    all["cures"] = std::move(cures);
    all["notes"] = answer.cures.notes;
    return json_document("cure", all);
}

}  // namespace limbwright::postproc
