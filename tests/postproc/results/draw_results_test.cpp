#include "postproc/results/draw_results.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "models/bow/bow_file.hpp"
#include "tests/support/strung.hpp"

namespace limbwright::postproc::draw_results_test {
namespace {

using models::Draw;
using models::StrungBow;
using nlohmann::json;

/// It has no draw stops, so that some of its measures are not defined.
const StrungBow& bow() {
    static const StrungBow strung = testing::strung(testing::small_uneven_bow());
    return strung;
}

const Draw& draw() {
    static const Draw drawn = testing::whole(models::draw(bow()));
    return drawn;
}

const MeasuredDraw& results() {
    static const MeasuredDraw measured_draw = measured(bow(), draw());
    return measured_draw;
}

json json_of(const MeasuredDraw& measured_draw) {
    return json::parse(to_json(measured_draw).dump());
}

int characters(const std::string& text) {
    return static_cast<int>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & '\xC0') != '\x80'; }));
}

/// NaN is the same as NaN.
bool same(const std::vector<double>& a, const std::vector<double>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](double x, double y) { return x == y || (std::isnan(x) && std::isnan(y)); });
}

/// The solver's own measures; they say nothing about a bow and stay out of the terminal.
bool is_of_the_solver(const std::string& name) {
    return name == "residual" || name == "iterations";
}

TEST(DrawResults, EveryMeasureHasAValueForEveryState) {
    ASSERT_EQ(results().measures.size(), results().values.size());
    for (const std::vector<double>& values : results().values) EXPECT_EQ(values.size(), draw().states.size());
}

TEST(DrawResults, AMeasureIsFoundByItsId) {
    const std::vector<double>& force = values_of(results(), "draw_force");
    for (std::size_t i = 0; i < force.size(); ++i) EXPECT_EQ(force[i], draw().states[i].force);
    EXPECT_THROW((void)values_of(results(), "draw force"), std::invalid_argument);
}

TEST(DrawResults, TablesFitAHundredColumns) {
    for (const Table& table : {course_table(results()), draw_table(results()), state_table(results())}) {
        std::istringstream text(to_text(table));
        for (std::string line; std::getline(text, line);) EXPECT_LE(characters(line), 100) << line;
    }
}

TEST(DrawResults, EveryMeasureOfTheBowStandsInTheStateTableOnce) {
    const Table table = state_table(results());
    std::vector<std::string> wanted;
    for (const models::Measure& m : results().measures)
        if (!is_of_the_solver(m.name))
            wanted.push_back(m.unit == "1" ? m.name : m.name + " [" + m.unit + "]");
    EXPECT_EQ(table.texts, wanted);
    EXPECT_EQ(std::set(wanted.begin(), wanted.end()).size(), wanted.size());
}

TEST(DrawResults, TheStateTableShowsBracePeakAndTheLastState) {
    const Table table = state_table(results());
    const std::vector<double>& force = values_of(results(), "draw_force");
    const auto peak = static_cast<std::size_t>(std::max_element(force.begin(), force.end()) - force.begin());
    ASSERT_TRUE(0 < peak && peak + 1 < force.size()) << "this bow's peak lies at an end";
    std::size_t row = 0;
    for (std::size_t i = 0; i < results().measures.size(); ++i) {
        if (is_of_the_solver(results().measures[i].name)) continue;
        const std::vector<double>& v = results().values[i];
        EXPECT_TRUE(same(table.rows[row++], {v.front(), v[peak], v.back()})) << results().measures[i].name;
    }
}

TEST(DrawResults, TheDrawTableHasEveryMeasureOfTheDraw) {
    const Table table = draw_table(results());
    const std::vector<models::Measure> measures = models::draw_measures();
    ASSERT_EQ(table.rows.size(), measures.size());
    for (std::size_t i = 0; i < measures.size(); ++i) {
        EXPECT_TRUE(table.texts[i].starts_with(measures[i].name)) << table.texts[i];
        EXPECT_TRUE(same(table.rows[i], {measures[i].value({bow().bow, draw()})})) << table.texts[i];
    }
}

TEST(DrawResults, TheCourseRunsFromBraceToTheLastStateInFewRows) {
    for (const int states : {2, 9, 14, 25, 41, 101}) {
        const Draw other = testing::whole(models::draw(bow(), testing::in_states(states)));
        const Table course = course_table(measured(bow(), other));
        EXPECT_EQ(course.columns.front().name, "draw");
        EXPECT_EQ(course.rows.front().front(), other.states.front().draw);
        EXPECT_EQ(course.rows.back().front(), other.states.back().draw);
        for (std::size_t i = 1; i < course.rows.size(); ++i)
            EXPECT_GT(course.rows[i].front(), course.rows[i - 1].front()) << states << " states";
        EXPECT_LE(course.rows.size(), 24u) << states << " states";
        EXPECT_GE(course.rows.size(), std::min<std::size_t>(other.states.size(), 9)) << states << " states";
    }
}

TEST(DrawResults, ADrawOfOneStateHasItsTablesToo) {
    Draw brace = draw();
    brace.states.resize(1);
    const MeasuredDraw only_brace = measured(bow(), brace);
    EXPECT_EQ(course_table(only_brace).rows.size(), 1u);
    EXPECT_EQ(state_table(only_brace).rows.size(), state_table(results()).rows.size());
    EXPECT_EQ(json_of(only_brace)["states"]["rows"].size(), 1u);
}

TEST(DrawResults, JsonTellsItsSchemaAndTheBow) {
    const json all = json_of(results());
    EXPECT_EQ(all["schema"], "limbwright draw");
    EXPECT_EQ(all["schema_version"], 1);
    EXPECT_EQ(all["bow"], "small bow");
    EXPECT_TRUE(all["limbwright_version"].is_string());
}

TEST(DrawResults, JsonNamesEveryStateMeasureOnceWithUnitAndDefinition) {
    const json columns = json_of(results())["states"]["columns"];
    std::set<std::string> names;
    ASSERT_EQ(columns.size(), results().measures.size());
    for (std::size_t i = 0; i < columns.size(); ++i) {
        EXPECT_EQ(columns[i]["name"], results().measures[i].name);
        EXPECT_TRUE(names.insert(columns[i]["name"]).second) << columns[i]["name"] << " stands twice";
        EXPECT_NE(columns[i]["unit"], "") << columns[i]["name"];
        EXPECT_NE(columns[i]["definition"], "") << columns[i]["name"];
    }
}

TEST(DrawResults, JsonHoldsEveryValueAndNullForWhatIsNotDefined) {
    const json rows = json_of(results())["states"]["rows"];
    ASSERT_EQ(rows.size(), draw().states.size());
    int not_defined = 0;
    for (std::size_t s = 0; s < rows.size(); ++s)
        for (std::size_t m = 0; m < results().values.size(); ++m) {
            const double value = results().values[m][s];
            not_defined += std::isnan(value);
            if (std::isnan(value))
                EXPECT_TRUE(rows[s][m].is_null()) << results().measures[m].name;
            else
                EXPECT_EQ(rows[s][m].get<double>(), value) << results().measures[m].name;
        }
    EXPECT_GT(not_defined, 0) << "this bow has no stop: its turn to the stop is not defined";
}

TEST(DrawResults, JsonHoldsTheMeasuresOfTheDrawWithUnitAndDefinition) {
    const json whole = json_of(results())["draw"];
    const std::vector<models::Measure> measures = models::draw_measures();
    ASSERT_EQ(whole.size(), measures.size());
    for (std::size_t i = 0; i < measures.size(); ++i) {
        EXPECT_EQ(whole[i]["id"], measures[i].id);
        EXPECT_EQ(whole[i]["name"], measures[i].name);
        EXPECT_EQ(whole[i]["unit"], measures[i].unit);
        EXPECT_NE(whole[i]["definition"], "") << measures[i].name;
        const double value = measures[i].value({bow().bow, draw()});
        if (std::isnan(value))
            EXPECT_TRUE(whole[i]["value"].is_null()) << measures[i].name;
        else
            EXPECT_EQ(whole[i]["value"].get<double>(), value) << measures[i].name;
    }
}

TEST(DrawResults, JsonHoldsTheNaturalLengths) {
    const json lengths = json_of(results())["natural_lengths"];
    EXPECT_EQ(lengths["unit"], "mm");
    EXPECT_EQ(lengths["string_above"].get<double>(), bow().lengths.string_above);
    EXPECT_EQ(lengths["string_below"].get<double>(), bow().lengths.string_below);
    EXPECT_EQ(lengths["cables"].get<std::vector<double>>(), bow().lengths.cables);
}

TEST(DrawResults, FailureAndWarningsComeThrough) {
    const json fine = json_of(results());
    EXPECT_TRUE(fine["failure"].is_null());
    EXPECT_EQ(fine["warnings"], json(draw().warnings));
    Draw ended = draw();
    ended.failure = "it ended";
    ended.warnings = {"slack", "unstable"};
    const json early = json_of(measured(bow(), ended));
    EXPECT_EQ(early["failure"], "it ended");
    EXPECT_EQ(early["warnings"], (json{"slack", "unstable"}));
}

TEST(DrawResults, TheRecordHoldsEveryMeasureOnce) {
    const DrawRecord record = record_of(results(), "text");
    ASSERT_EQ(record.measures.size(), results().measures.size());
    for (std::size_t i = 0; i < record.measures.size(); ++i) {
        EXPECT_EQ(record.measures[i].name, results().measures[i].name);
        EXPECT_EQ(record.measures[i].unit, results().measures[i].unit);
        EXPECT_EQ(record.measures[i].definition, results().measures[i].definition);
        EXPECT_TRUE(same(record.measures[i].values, results().values[i])) << record.measures[i].name;
    }
}

TEST(DrawResults, TheRecordHoldsEveryStateAndNamesItsParts) {
    const DrawRecord record = record_of(results(), "text");
    ASSERT_EQ(record.states.size(), draw().states.size());
    for (std::size_t i = 0; i < record.states.size(); ++i) {
        const solver::State& state = draw().states[i].state;
        EXPECT_EQ(record.states[i].draw, draw().states[i].draw);
        ASSERT_EQ(record.states[i].positions.size(), state.nodes.size());
        for (std::size_t n = 0; n < state.nodes.size(); ++n)
            EXPECT_EQ(record.states[i].positions[n], state.nodes[n].position);
        EXPECT_EQ(record.states[i].points, state.points);
        EXPECT_EQ(record.states[i].scalars, state.scalars);
    }
    for (const auto* names : {&record.node_names, &record.point_names, &record.scalar_names})
        for (const std::string& name : *names) EXPECT_NE(name, "");
    EXPECT_NO_THROW((void)to_tree(record));
}

TEST(DrawResults, TheRecordHoldsTheBowAsReadAndAsUnderstood) {
    const DrawRecord record = record_of(results(), "as it was read");
    EXPECT_EQ(record.bow_file, "as it was read");
    EXPECT_EQ(record.resolved_values, models::bow_to_toml(testing::small_uneven_bow()));
}

}  // namespace
}  // namespace limbwright::postproc::draw_results_test
