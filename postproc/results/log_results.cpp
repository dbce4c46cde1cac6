#include "postproc/results/log_results.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "postproc/output/json_document.hpp"
#include "postproc/output/table.hpp"

namespace limbwright::postproc {
namespace {

using Json = nlohmann::ordered_json;
using models::Compared;
using models::LogEntry;

/// In what people read: a share in per cent, else the dimension's first unit.
models::Unit unit_of(const Compared& c) {
    return c.dimension ? c.dimension->units.front() : models::Unit{"%", 0.01};
}

const char* word(models::Next next) {
    switch (next) {
        case models::Next::stop:
            return "stop";
        case models::Next::cure:
            return "cure";
        case models::Next::measure:
            return "measure";
        case models::Next::contradiction:
            break;
    }
    return "contradiction";
}

std::string entries_text(const std::vector<LogEntry>& log) {
    std::string text = "Log\n";
    for (const LogEntry& e : log) {
        std::string what = e.plan ? fmt::format("planned: {}, to answer {:.0f} ± {:.0f} % of the tear",
                                                e.plan->change, 100 * e.plan->answered, 100 * e.plan->sure)
                                  : fmt::format("{} measurements", e.measured.size());
        if (e.tear) what += e.tear->size() > 0 ? "; " + models::to_text(*e.tear) : std::string("; no tear");
        if (!e.remark.empty()) what += "; " + e.remark;
        text += paragraph(fmt::format("{}: {}", e.date, what), 4);
    }
    return text;
}

std::vector<Compared> all_compared(const models::Outcome& outcome) {
    std::vector<Compared> all = outcome.numbers;
    if (outcome.tear) all.push_back(*outcome.tear);
    return all;
}

Table comparison(const models::Outcome& outcome) {
    Table table{.title = "Predicted and measured after: " + outcome.plan->plan->change,
                .columns = {{"predicted", "", "by the plan", 2},
                            {"±", "", "its standard deviation", 2},
                            {"measured", "", "afterwards", 2},
                            {"±", "", "its standard deviation", 2},
                            {"off", "σ", "measured less predicted, in standard deviations of both", 2},
                            {"within", "", "two standard deviations", 2, false, {}}},
                .rows = {},
                .text_name = "number",
                .texts = {}};
    for (const Compared& c : all_compared(outcome)) {
        const models::Unit unit = unit_of(c);
        const std::string at = c.at ? fmt::format(" at {:.4g} in", *c.at / models::units::inch) : "";
        table.texts.push_back(fmt::format("{}{} [{}]", c.name, at, unit.name));
        table.rows.push_back({c.predicted / unit.factor, c.predicted_sigma / unit.factor,
                              c.measured / unit.factor, c.measured_sigma / unit.factor, c.sigmas(), 0});
        table.columns.back().words.push_back(c.within() ? "yes" : c.contradicts() ? "CONTRADICTS" : "no");
    }
    return table;
}

}  // namespace

std::string to_text(const LogResults& results) {
    std::string text = results.bow.name + "\n\n" + entries_text(results.log);
    if (results.outcome.plan && !all_compared(results.outcome).empty())
        text += "\n" + to_text(comparison(results.outcome));
    if (results.match) {
        std::size_t seen = 0;
        for (const models::MatchedParameter& p : results.match->parameters)
            seen += p.verdict != models::Verdict::not_seen;
        text += "\n" +
                paragraph(fmt::format("All measurements of the log fitted anew: {} of {} numbers of the bow "
                                      "are told by them; sum of squares {:.1f} for {} measurements.",
                                      seen, results.match->parameters.size(), results.match->squares,
                                      results.match->measurements.size()));
    }
    text += "\n" + paragraph(results.advice.sentence);
    if (!results.command.empty()) text += "    " + results.command + "\n";
    return text;
}

Json to_json(const LogResults& results) {
    Json entries = Json::array(), compared = Json::array();
    for (const LogEntry& e : results.log) {
        Json entry{{"date", e.date}, {"measurements", e.measured.size()}, {"remark", e.remark}};
        if (e.tear) entry["tear"] = {{"left_mm", e.tear->left}, {"high_mm", e.tear->high}};
        if (e.plan)
            entry["plan"] = {
                {"change", e.plan->change}, {"answered", e.plan->answered}, {"answered_sigma", e.plan->sure}};
        entries.push_back(std::move(entry));
    }
    for (const Compared& c : all_compared(results.outcome)) {
        const models::Unit unit = unit_of(c);
        compared.push_back({{"name", c.name},
                            {"unit", unit.name},
                            {"at_mm", c.at ? Json(*c.at) : Json(nullptr)},
                            {"predicted", c.predicted / unit.factor},
                            {"predicted_sigma", c.predicted_sigma / unit.factor},
                            {"measured", c.measured / unit.factor},
                            {"measured_sigma", c.measured_sigma / unit.factor},
                            {"sigmas", c.sigmas()},
                            {"within", c.within()}});
    }
    Json parameters = Json::array();
    if (results.match)
        for (const models::MatchedParameter& p : results.match->parameters) {
            const double factor = p.parameter.dimension ? p.parameter.dimension->units.front().factor : 1;
            parameters.push_back({{"key", p.parameter.key},
                                  {"value", p.value / factor},
                                  {"sigma", p.sigma / factor},
                                  {"seen", p.verdict != models::Verdict::not_seen}});
        }
    return json_document("log", {{"bow", results.bow.name},
                                 {"entries", std::move(entries)},
                                 {"compared", std::move(compared)},
                                 {"parameters", std::move(parameters)},
                                 {"next", word(results.advice.next)},
                                 {"sentence", results.advice.sentence},
                                 {"cure", results.advice.cure},
                                 {"command", results.command}});
}

}  // namespace limbwright::postproc
