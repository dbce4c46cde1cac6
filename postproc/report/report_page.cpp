#include "postproc/report/report_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "postproc/output/caution.hpp"
#include "postproc/output/svg.hpp"
#include "postproc/report/report_parts.hpp"

namespace limbwright::postproc {
namespace {

using svg::escaped;

/// Escaped, with its line breaks.
std::string escaped_lines(std::string_view text) {
    std::string lines;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t end = std::min(text.find('\n', from), text.size());
        lines += escaped(text.substr(from, end - from)) + '\n';
        from = end + 1;
    }
    return lines;
}

/// A number with a true minus sign; a dash where there is none.
std::string shown(double value, int digits) {
    if (!std::isfinite(value)) return "–";
    std::string text = fmt::format("{:.{}f}", value, digits);
    if (text.find_first_of("123456789") == std::string::npos && text.front() == '-') text.erase(0, 1);
    if (text.front() == '-') text.replace(0, 1, "−");
    return text;
}

std::string head_cell(const std::string& name, const std::string& unit, const std::string& definition = {}) {
    return fmt::format("<th scope=\"col\"{}>{}{}</th>",
                       definition.empty() ? "" : fmt::format(" title=\"{}\"", escaped(definition)),
                       escaped(name), unit.empty() ? "" : fmt::format("<span>{}</span>", escaped(unit)));
}

std::string html_of(const Table& table) {
    std::string html =
        fmt::format("<h3>{}</h3>\n<div class=\"wide\"><table>\n<thead><tr><th class=\"text\">{}</th>",
                    escaped(table.title), escaped(table.text_name));
    for (const Column& column : table.columns) html += head_cell(column.name, column.unit, column.definition);
    html += "</tr></thead>\n<tbody>\n";
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        html += fmt::format("<tr{}><th scope=\"row\">{}</th>", r == 0 ? " class=\"first\"" : "",
                            escaped(table.texts[r]));
        for (std::size_t c = 0; c < table.columns.size(); ++c)
            html += fmt::format("<td>{}</td>", shown(table.rows[r][c], table.columns[c].digits));
        html += "</tr>\n";
    }
    return html + "</tbody></table></div>\n";
}

/// What the table of layouts tells of one layout, from its curves.
std::vector<std::string> key_values(const ReportData& data, const ReportLayout& layout) {
    std::vector<std::string> cells;
    for (std::size_t i = 0; i < data.curves.size(); ++i) {
        const ReportCurve& curve = data.curves[i];
        const bool known = i < layout.curves.size() && !layout.curves[i].empty();
        if (curve.measure.id == "draw_force")
            cells.push_back(known ? shown(*std::ranges::max_element(layout.curves[i]), curve.measure.digits)
                                  : "–");
        cells.push_back(known ? shown(layout.curves[i].back(), curve.measure.digits) : "–");
    }
    return cells;
}

std::string layouts_table(const ReportData& data) {
    const bool scored = !data.study.empty();
    std::string html =
        "<div class=\"wide\"><table class=\"layouts\">\n<thead><tr><th class=\"text\">layout</th><th "
        "class=\"text\">change from today</th><th class=\"text\">work</th>";
    if (scored)
        html += head_cell("score", "",
                          "sum of the misses of the study's aims times their weights; less is "
                          "better");
    for (const ReportCurve& curve : data.curves) {
        if (curve.measure.id == "draw_force")
            html += head_cell("Peak weight", curve.measure.unit, "largest draw force");
        html += head_cell(curve.measure.id == "draw_force" ? "Holding weight" : curve.title,
                          curve.measure.unit, curve.measure.definition);
    }
    html += "</tr></thead>\n<tbody>\n";
    for (std::size_t i = 0; i < data.layouts.size(); ++i) {
        const ReportLayout& layout = data.layouts[i];
        std::string change = escaped(layout.change);
        if (!layout.failure.empty())
            change += " <em>(could not be drawn: " + escaped(layout.failure) + ")</em>";
        for (const std::string& limit : layout.broken)
            change += " <em>(breaks a limit: " + escaped(limit) + ")</em>";
        html += fmt::format(
            "<tr{}><td class=\"text short\"><label><input type=\"radio\" name=\"layout\" value=\"{}\"{}> "
            "{}</label></td><td class=\"text\">{}</td><td class=\"text short\">{}</td>",
            i == 0 ? " class=\"first\"" : "", i, i == 0 ? " checked" : "", escaped(layout.name), change,
            escaped(layout.rework));
        if (scored) html += fmt::format("<td>{}</td>", shown(layout.score, 4));
        for (const std::string& cell : key_values(data, layout)) html += fmt::format("<td>{}</td>", cell);
        html += "</tr>\n";
    }
    return html + "</tbody></table></div>\n";
}

std::string button(const char* name, const char* value, const char* text, bool pressed = false) {
    return fmt::format("<button type=\"button\" name=\"{}\" value=\"{}\" aria-pressed=\"{}\">{}</button>\n",
                       name, value, pressed, text);
}

std::string picture_section(const ReportData& data) {
    std::string html =
        "<section>\n<h2>The bow</h2>\n<div class=\"live screen\">\n<div class=\"controls\">\n<span>Lean " +
        button("lean", "1", "×1", true) + button("lean", "4", "×4") + button("lean", "10", "×10") +
        "</span>\n<span>Seen from " + button("view", "corner", "a corner", true) +
        button("view", "behind", "behind") + button("view", "side", "the right") +
        button("view", "above", "above") + "</span>\n<span>Near by " +
        button("view", "axle top", "top axle") + button("view", "axle bottom", "bottom axle") +
        "</span>\n<span class=\"small\">Drag to turn, or the arrow keys.</span></div>\n<div class=\"bow\">\n";
    for (std::size_t i = 0; i < data.states.size(); ++i)
        html += fmt::format(
            "<figure><canvas width=\"1160\" height=\"1000\" tabindex=\"0\" role=\"img\" "
            "aria-label=\"The bow at {}\"></canvas><figcaption "
            "id=\"bow-caption-{}\"></figcaption></figure>\n",
            escaped(data.states[i].name), i);
    return html +
           "</div>\n<p class=\"small\">What is enlarged is how far each axle is tilted and shifted sideways; "
           "limbs, string and cables follow their ends. The figures are those of the bow as it "
           "is.</p>\n</div>\n<div class=\"still\">\n" +
           data.behind + data.side + "</div>\n</section>\n";
}

std::string curves_section(const ReportData& data) {
    std::string html =
        "<section class=\"live\">\n<h2 class=\"new-page\">Over the draw</h2>\n<p class=\"no-print\"><label "
        "for=\"layout\">Layout against today's: </label><select id=\"layout\">\n";
    for (std::size_t i = 0; i < data.layouts.size(); ++i)
        html += fmt::format("<option value=\"{}\">{}{}</option>\n", i, escaped(data.layouts[i].name),
                            i == 0 ? "" : ": " + escaped(data.layouts[i].change));
    html += "</select></p>\n<p id=\"chosen\" aria-live=\"polite\"></p>\n<div class=\"charts\">\n";
    for (std::size_t i = 0; i < data.curves.size(); ++i)
        html += fmt::format(
            "<div><h3>{}</h3><canvas id=\"chart-{}\" width=\"560\" height=\"290\" role=\"img\" "
            "aria-label=\"{} over the draw\"></canvas></div>\n",
            escaped(data.curves[i].title), i, escaped(data.curves[i].title));
    html +=
        "<div><h3>In figures</h3><table><thead><tr><th class=\"text\"></th><th>today</th><th>chosen</th>"
        "<th>change</th></tr></thead><tbody id=\"compare\"></tbody></table></div>\n</div>\n</section>\n";
    html += "<section class=\"plain still-plots\">\n<h2>Over the draw</h2>\n<div class=\"still\">\n";
    for (const std::string& plot : data.plots) html += plot;
    return html + "</div>\n</section>\n";
}

std::string layouts_section(const ReportData& data) {
    std::string html = fmt::format(
        "<section>\n<h2 class=\"new-page\">{}</h2>\n<p class=\"no-print\">Choose one to see its curves "
        "above. Left of a stroke "
        "is the archer's left.{}</p>\n",
        data.study.empty() ? "Choose a layout" : "Choose a layout: the ranking of " + escaped(data.study),
        data.study.empty() ? "" : " The best comes first; less is better.");
    html += layouts_table(data);
    for (const std::string& note : data.notes) html += "<p class=\"small\">" + escaped(note) + "</p>\n";
    return html + "</section>\n";
}

std::string effects_section(const ReportData& data) {
    std::string html =
        "<section>\n<h2 class=\"new-page\">What each setting does</h2>\n<p>Change of each measure for one "
        "step of one setting, "
        "to "
        "first order. The first row is today's value.</p>\n";
    for (const Table& table : data.effects) html += html_of(table);
    return html + "</section>\n";
}

std::string tear_sections(const ReportTear& tear) {
    std::string html = "<section>\n<h2 class=\"new-page\">The tear and its cures</h2>\n<pre>" +
                       escaped_lines(tear.text) + "</pre>\n</section>\n";
    if (tear.sheet.empty()) return html;
    return html + "<section class=\"sheet\">\n<h2>" + escaped(tear.title) +
           "</h2>\n<p>One page to take to the bench, for the first of the cures.</p>\n" + tear.sheet +
           "</section>\n";
}

std::string reading_section(const ReportData& data) {
    std::string html = "<section>\n<h2>How to read this</h2>\n<dl>\n";
    for (const ReportCurve& curve : data.curves)
        html += fmt::format("<dt>{} [{}]</dt><dd>{}</dd>\n", escaped(curve.title),
                            escaped(curve.measure.unit), escaped(curve.measure.definition));
    html += "<dt>Left, right</dt><dd>as the archer sees them</dd>\n</dl>\n";
    return html +
           "<details class=\"no-print\"><summary>Licence of Chart.js, which draws the curves</summary><pre>" +
           escaped_lines(report_parts::charts_licence) + "</pre></details>\n</section>\n";
}

/// JSON that may stand in a script element: no end tag and no comment can begin in it.
std::string in_script(std::string json) {
    std::string safe;
    for (const char c : json) safe += c == '<' ? std::string("\\u003c") : std::string(1, c);
    return safe;
}

}  // namespace

std::string to_html(const ReportData& data) {
    std::string html = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<meta http-equiv=\"Content-Security-Policy\" "
        "content=\"default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src "
        "data:\">\n<title>{}: report</title>\n<style>\n{}</style>\n</head>\n<body>\n<h1>{}</h1>\n<p>A "
        "report of Limbwright {}: the bow strung and drawn by calculation, what each setting changes, and "
        "layouts to compare, before anything is taken apart.</p>\n<p class=\"caution\">{}</p>\n",
        escaped(data.bow), report_parts::style, escaped(data.bow), LIMBWRIGHT_VERSION, escaped(caution));
    for (const std::string& warning : data.warnings)
        html += "<p class=\"caution\">Warning: " + escaped(warning) + "</p>\n";
    html += picture_section(data) + curves_section(data) + layouts_section(data) + effects_section(data);
    html += reading_section(data);
    if (data.tear) html += tear_sections(*data.tear);
    html +=
        "<script type=\"application/json\" id=\"data\">" + in_script(to_json(data).dump()) + "</script>\n";
    for (const std::string_view script :
         {report_parts::charts, report_parts::bow_script, report_parts::script})
        html += fmt::format("<script>\n{}</script>\n", script);
    return html + "</body>\n</html>\n";
}

}  // namespace limbwright::postproc
