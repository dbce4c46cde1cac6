#include "postproc/commands/command_match.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "models/bow/bow_file.hpp"
#include "models/matching/calibration.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/json_document.hpp"
#include "postproc/output/table.hpp"
#include "postproc/output/usage_error.hpp"

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
using models::Match;
using models::MatchedMeasurement;
using models::MatchedParameter;
using models::NextMeasurement;
using models::Verdict;

constexpr std::size_t shown_next = 6;  ///< of the measurements that could be made

models::Unit unit_of(const models::Dimension* dimension) {
    return dimension ? dimension->units.front() : models::Unit{"", 1};
}

/// A value as a person reads it, with as many digits as its standard deviation bears.
std::string text_of(double value, double sigma, const models::Dimension* dimension) {
    const models::Unit unit = unit_of(dimension);
    const double s = sigma / unit.factor;
    const int digits =
        s > 0 && s < 1e6 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(s))), 0, 6) : 3;
    return fmt::format("{:.{}f}{}{}", value / unit.factor, digits, unit.name.empty() ? "" : " ", unit.name);
}

std::string place(const std::optional<double>& at) {
    return at ? fmt::format(" at {:.4g} in", *at / models::units::inch) : "";
}

const char* name_of(Verdict verdict) {
    switch (verdict) {
        case Verdict::seen:
            return "seen";
        case Verdict::stands_for:
            return "seen in part";
        case Verdict::not_seen:
            break;
    }
    return "not seen";
}

Table parameters_table(const Match& match) {
    Table table{.title = "The bow's numbers",
                .columns = {{"bow file", "", "value in the bow file", 2, false, {}},
                            {"±", "", "its standard deviation", 2, false, {}},
                            {"matched", "", "value that the measurements make of it", 2, false, {}},
                            {"±", "", "standard deviation of the matched value", 2, false, {}},
                            {"told by the data", "%", "share of the variance that they take away", 0},
                            {"verdict", "", "whether the measurements see it", 2, false, {}}},
                .rows = {},
                .text_name = "number",
                .texts = {}};
    for (const MatchedParameter& p : match.parameters) {
        const models::Dimension* d = p.parameter.dimension;
        table.texts.push_back(p.parameter.name);
        table.columns[0].words.push_back(text_of(p.prior, p.parameter.sigma, d));
        table.columns[1].words.push_back(text_of(p.parameter.sigma, p.parameter.sigma, d));
        const bool fitted = p.verdict != Verdict::not_seen;
        table.columns[2].words.push_back(fitted ? text_of(p.value, p.sigma, d) : "");
        table.columns[3].words.push_back(fitted ? text_of(p.sigma, p.sigma, d) : "");
        table.columns[5].words.push_back(name_of(p.verdict));
        table.rows.push_back({0, 0, 0, 0, 100 * p.share, 0});
    }
    return table;
}

Table measurements_table(const Match& match) {
    Table table{.title = "The measurements",
                .columns = {{"measured", "", "as the bench file has it", 2, false, {}},
                            {"±", "", "its standard deviation", 2, false, {}},
                            {"bow file", "", "what the bow file's bow shows", 2, false, {}},
                            {"matched", "", "what the matched bow shows", 2, false, {}},
                            {"off", "σ", "matched less measured, in standard deviations", 2},
                            {"error to be found",
                             "",
                             "an error of this size would be found four times of five",
                             2,
                             false,
                             {}}},
                .rows = {},
                .text_name = "measurement",
                .texts = {}};
    for (const MatchedMeasurement& m : match.measurements) {
        const double sigma = m.measurement.sigma;
        table.texts.push_back(m.name + place(m.measurement.at));
        table.columns[0].words.push_back(text_of(m.measurement.value, sigma, m.dimension));
        table.columns[1].words.push_back(text_of(sigma, sigma, m.dimension));
        table.columns[2].words.push_back(text_of(m.before, sigma, m.dimension));
        table.columns[3].words.push_back(text_of(m.after, sigma, m.dimension));
        table.columns[5].words.push_back(std::isfinite(m.check.detectable)
                                             ? text_of(m.check.detectable * sigma, sigma, m.dimension)
                                             : "none");
        table.rows.push_back({0, 0, 0, 0, m.off, 0});
    }
    return table;
}

Table next_table(const Match& match) {
    Table table{.title = "What to measure next, best first",
                .columns = {{"takes away", "%", "share of what is not known yet, all numbers together", 1},
                            {"tells most of", "", "the number whose variance it lessens most", 2, false, {}},
                            {"± now", "", "standard deviation of that number", 2, false, {}},
                            {"± then", "", "its standard deviation afterwards", 2, false, {}}},
                .rows = {},
                .text_name = "measurement",
                .texts = {}};
    for (std::size_t k = 0; k < std::min(shown_next, match.next.size()); ++k) {
        const NextMeasurement& next = match.next[k];
        const MatchedParameter& p = match.parameters[static_cast<std::size_t>(next.parameter)];
        table.texts.push_back(next.name + place(next.at));
        table.columns[1].words.push_back(p.parameter.name);
        table.columns[2].words.push_back(text_of(next.before, next.before, p.parameter.dimension));
        table.columns[3].words.push_back(text_of(next.after, next.after, p.parameter.dimension));
        table.rows.push_back({100 * next.lessens, 0, 0, 0});
    }
    return table;
}

void print_tables(const Match& match) {
    fmt::print("{}\n\n{}", match.bow.name, to_text(parameters_table(match)));
    fmt::print("\nNumbers that are not seen keep the bow file's values.\n");
    for (const MatchedParameter& p : match.parameters) {
        if (p.with.empty()) continue;
        std::vector<std::string> names;
        for (const int i : p.with)
            names.push_back(match.parameters[static_cast<std::size_t>(i)].parameter.name);
        fmt::print("{}", paragraph(fmt::format("{} also stands for what may be amiss with: {}.",
                                               p.parameter.name, fmt::join(names, "; ")),
                                   2));
    }
    for (const models::Alike& alike : match.alike)
        fmt::print("{}", paragraph("Not told apart: " + alike.sentence + ".", 2));
    fmt::print("\n{}", to_text(measurements_table(match)));
    fmt::print("\nSum of squares {:.1f}; about {} if all is well.\n", match.squares,
               match.measurements.size());
    if (match.contradictions.empty()) fmt::print("No measurement contradicts the others.\n");
    for (const models::Contradiction& c : match.contradictions)
        fmt::print("{}", paragraph("Contradiction: " + c.sentence, 2));
    if (!match.next.empty()) fmt::print("\n{}", to_text(next_table(match)));
}

Json draw_length(const std::optional<double>& at) {
    return at ? Json(*at) : Json(nullptr);
}

Json to_json(const Match& match) {
    Json parameters = Json::array(), measurements = Json::array(), contradictions = Json::array(),
         alike = Json::array(), next = Json::array();
    for (const MatchedParameter& p : match.parameters) {
        const models::Unit unit = unit_of(p.parameter.dimension);
        Json with = Json::array();
        for (const int i : p.with)
            with.push_back(match.parameters[static_cast<std::size_t>(i)].parameter.key);
        parameters.push_back({{"key", p.parameter.key},
                              {"name", p.parameter.name},
                              {"unit", unit.name},
                              {"definition", p.parameter.definition},
                              {"prior", p.prior / unit.factor},
                              {"prior_sigma", p.parameter.sigma / unit.factor},
                              {"value", p.value / unit.factor},
                              {"sigma", p.sigma / unit.factor},
                              {"share", p.share},
                              {"verdict", name_of(p.verdict)},
                              {"with", std::move(with)}});
    }
    for (const MatchedMeasurement& m : match.measurements) {
        const models::Unit unit = unit_of(m.dimension);
        measurements.push_back(
            {{"quantity", m.measurement.quantity},
             {"name", m.name},
             {"unit", unit.name},
             {"at_mm", draw_length(m.measurement.at)},
             {"measured", m.measurement.value / unit.factor},
             {"sigma", m.measurement.sigma / unit.factor},
             {"before", finite_or_null(m.before / unit.factor)},
             {"after", finite_or_null(m.after / unit.factor)},
             {"off", finite_or_null(m.off)},
             {"normalised", finite_or_null(m.check.normalised)},
             {"detectable", finite_or_null(m.check.detectable * m.measurement.sigma / unit.factor)}});
    }
    for (const models::Contradiction& c : match.contradictions) {
        const MatchedMeasurement& m = match.measurements[static_cast<std::size_t>(c.measurement)];
        const models::Unit unit = unit_of(m.dimension);
        contradictions.push_back({{"measurement", c.measurement},
                                  {"others", c.others / unit.factor},
                                  {"others_sigma", c.others_sigma / unit.factor},
                                  {"sigmas", c.sigmas},
                                  {"sentence", c.sentence}});
    }
    for (const models::Alike& group : match.alike) {
        Json keys = Json::array();
        for (const int i : group.parameters)
            keys.push_back(match.parameters[static_cast<std::size_t>(i)].parameter.key);
        alike.push_back({{"parameters", std::move(keys)}, {"sentence", group.sentence}});
    }
    for (const NextMeasurement& n : match.next) {
        const MatchedParameter& p = match.parameters[static_cast<std::size_t>(n.parameter)];
        const models::Unit unit = unit_of(p.parameter.dimension);
        next.push_back({{"quantity", n.quantity},
                        {"name", n.name},
                        {"at_mm", draw_length(n.at)},
                        {"takes_away", n.lessens},
                        {"parameter", p.parameter.key},
                        {"sigma_before", n.before / unit.factor},
                        {"sigma_after", n.after / unit.factor}});
    }
    return json_document("match", {{"bow", match.bow.name},
                                   {"squares", match.squares},
                                   {"parameters", std::move(parameters)},
                                   {"measurements", std::move(measurements)},
                                   {"contradictions", std::move(contradictions)},
                                   {"alike", std::move(alike)},
                                   {"next", std::move(next)},
                                   {"warnings", match.warnings}});
}

/// Grooves that the written bow file names and that are not beside it yet. Where the bow's own folder is
/// written to, those that are there are the bow's.
std::vector<models::GrooveFile> missing_grooves(const models::Bow& bow, const MatchArguments& arguments) {
    const auto folder_of = [](const fs::path& file) { return fs::weakly_canonical(file).parent_path(); };
    const bool at_home = folder_of(*arguments.write) == folder_of(arguments.bow);
    std::vector<models::GrooveFile> missing;
    for (const models::GrooveFile& groove : models::groove_files(bow)) {
        const fs::path file = folder_of(*arguments.write) / groove.name;
        if (!fs::exists(file))
            missing.push_back(groove);
        else if (!at_home && read_text(file) != groove.text)
            throw UsageError{fmt::format(
                "the matched bow needs its groove in {}, but another file is there already; name a file in "
                "another folder",
                file.string())};
    }
    return missing;
}

void write_bow(const models::Bow& bow, const std::vector<models::GrooveFile>& grooves, const fs::path& file) {
    for (const models::GrooveFile& groove : grooves)
        write_whole_file(file.parent_path() / groove.name, groove.text);
    write_whole_file(file, models::bow_to_toml(bow));
    fmt::print(stderr, "{} is written.\n", file.string());
}

}  // namespace

int command_match(const MatchArguments& arguments) {
    const models::Bow bow = models::read_bow(arguments.bow);
    const models::BenchRecord sheet = models::read_bench(arguments.bench, bow);
    std::vector<models::GrooveFile> grooves;
    if (arguments.write) {
        if (fs::exists(*arguments.write) && !arguments.force)
            throw UsageError{
                fmt::format("{} is there already; add --force to write over it, or name another file",
                            arguments.write->string())};
        grooves = missing_grooves(bow, arguments);
    }
    const auto answer = models::match(bow, sheet);
    if (const auto* lost = std::get_if<models::NotMatched>(&answer)) {
        fmt::print(stderr, "{} could not be matched: {}\n", bow.name, lost->reason);
        return 1;
    }
    const Match& match = std::get<Match>(answer);
    for (const std::string& warning : match.warnings) fmt::print(stderr, "warning: {}\n", warning);
    if (arguments.json)
        fmt::print("{}\n", to_json(match).dump(1));
    else
        print_tables(match);
    if (arguments.write) write_bow(match.bow, grooves, *arguments.write);
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
