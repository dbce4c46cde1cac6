#include "postproc/output/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "postproc/output/json_document.hpp"

namespace limbwright::postproc {

using Json = nlohmann::ordered_json;
namespace {

constexpr int page_width = 100;
constexpr int longest_label = 40;
const std::string gap = "  ";

/// Characters, not bytes: units hold "°" and "·".
int shown_width(const std::string& text) {
    return static_cast<int>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & '\xC0') != '\x80'; }));
}

std::string padded(const std::string& text, int width, bool to_the_left) {
    const std::string blanks(std::max(0, width - shown_width(text)), ' ');
    return to_the_left ? text + blanks : blanks + text;
}

std::string shortened(const std::string& text) {
    if (shown_width(text) <= longest_label) return text;
    std::string cut;
    int shown = 0;
    for (const char c : text) {
        shown += (c & '\xC0') != '\x80';
        if (shown == longest_label) break;
        cut += c;
    }
    return cut + "…";
}

std::string shown(double value, const Column& column) {
    if (std::isnan(value)) return "-";
    if (column.scientific) return fmt::format("{:.{}e}", value, column.digits);
    const std::string text = fmt::format("{:.{}f}", value, column.digits);
    const bool is_zero = text.find_first_of("123456789in") == std::string::npos;
    return is_zero && text.front() == '-' ? text.substr(1) : text;
}

/// One column as it stands on the page: header lines, then one cell a row.
struct PrintedColumn {
    std::vector<std::string> header;
    std::vector<std::string> cells;
    bool is_text = false;
    int width = 0;
};

int widest(const std::vector<std::string>& texts) {
    int width = 0;
    for (const std::string& text : texts) width = std::max(width, shown_width(text));
    return width;
}

std::vector<std::string> words_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

/// Words set into lines no wider than `width`, or than the longest word.
std::vector<std::string> broken(const std::vector<std::string>& words, int width) {
    std::vector<std::string> lines;
    for (const std::string& word : words) {
        if (!lines.empty() && shown_width(lines.back()) + 1 + shown_width(word) <= width)
            lines.back() += " " + word;
        else
            lines.push_back(word);
    }
    return lines;
}

PrintedColumn printed(const std::string& name, const std::string& unit, std::vector<std::string> cells,
                      bool is_text) {
    constexpr int comfortable = 9;
    const std::string shown_unit = unit.empty() ? "" : "[" + unit + "]";
    PrintedColumn column{.header = {}, .cells = std::move(cells), .is_text = is_text, .width = 0};
    const std::vector<std::string> words = words_of(name);
    column.header =
        broken(words, std::max({comfortable, widest(column.cells), widest(words), shown_width(shown_unit)}));
    column.header.push_back(shown_unit);
    column.width = std::min(page_width, std::max(widest(column.header), widest(column.cells)));
    return column;
}

void check(const Table& table) {
    for (const std::vector<double>& row : table.rows)
        if (row.size() != table.columns.size())
            throw std::invalid_argument(fmt::format("table \"{}\": a row of {} values under {} columns",
                                                    table.title, row.size(), table.columns.size()));
    if (!table.texts.empty() && table.texts.size() != table.rows.size())
        throw std::invalid_argument(fmt::format("table \"{}\": {} labels for {} rows", table.title,
                                                table.texts.size(), table.rows.size()));
    for (const Column& column : table.columns)
        if (!column.words.empty() && column.words.size() != table.rows.size())
            throw std::invalid_argument(fmt::format("table \"{}\": {} words for {} rows", table.title,
                                                    column.words.size(), table.rows.size()));
}

std::vector<PrintedColumn> printed_columns(const Table& table) {
    std::vector<PrintedColumn> columns;
    if (!table.texts.empty()) {
        std::vector<std::string> labels;
        for (const std::string& text : table.texts) labels.push_back(shortened(text));
        columns.push_back(printed(table.text_name, "", labels, true));
    }
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const Column& column = table.columns[c];
        std::vector<std::string> cells = column.words;
        if (cells.empty())
            for (const std::vector<double>& row : table.rows) cells.push_back(shown(row[c], column));
        columns.push_back(printed(column.name, column.unit, std::move(cells), !column.words.empty()));
    }
    return columns;
}

void add_line(std::string& text, const std::vector<std::string>& cells) {
    std::string line;
    for (const std::string& cell : cells) line += (line.empty() ? "" : gap) + cell;
    text += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
}

std::string block(const std::vector<const PrintedColumn*>& columns, std::size_t rows) {
    std::size_t header_lines = 0;
    bool has_units = false;
    for (const PrintedColumn* column : columns) {
        header_lines = std::max(header_lines, column->header.size());
        has_units |= !column->header.back().empty();
    }
    std::string text;
    std::vector<std::string> cells(columns.size());
    for (std::size_t line = 0; line < header_lines; ++line) {
        for (std::size_t c = 0; c < columns.size(); ++c) {
            const PrintedColumn& column = *columns[c];
            const std::size_t blank = header_lines - column.header.size();
            cells[c] = padded(line < blank ? "" : column.header[line - blank], column.width, column.is_text);
        }
        if (has_units || line + 1 < header_lines) add_line(text, cells);
    }
    for (std::size_t c = 0; c < columns.size(); ++c) cells[c] = std::string(columns[c]->width, '-');
    add_line(text, cells);
    for (std::size_t row = 0; row < rows; ++row) {
        for (std::size_t c = 0; c < columns.size(); ++c)
            cells[c] = padded(columns[c]->cells[row], columns[c]->width, columns[c]->is_text);
        add_line(text, cells);
    }
    return text;
}

}  // namespace

std::string labelled(const std::string& name, const std::string& unit) {
    return unit == "1" || unit.empty() ? name : name + " [" + unit + "]";
}

std::string to_text(const Table& table) {
    check(table);
    std::string text = table.title.empty() ? "" : table.title + "\n\n";
    const std::vector<PrintedColumn> columns = printed_columns(table);
    if (columns.empty()) return text;
    std::vector<const PrintedColumn*> taken{&columns.front()};
    int width = columns.front().width;
    for (std::size_t c = 1; c < columns.size(); ++c) {
        const int more = static_cast<int>(gap.size()) + columns[c].width;
        if (taken.size() > 1 && width + more > page_width) {
            text += block(taken, table.rows.size()) + "\n";
            taken = {&columns.front()};
            width = columns.front().width;
        }
        taken.push_back(&columns[c]);
        width += more;
    }
    return text + block(taken, table.rows.size());
}

nlohmann::ordered_json to_json(const Table& table) {
    check(table);
    Json columns = Json::array();
    if (!table.texts.empty())
        columns.push_back({{"name", table.text_name}, {"unit", ""}, {"definition", ""}});
    for (const Column& column : table.columns)
        columns.push_back({{"name", column.name}, {"unit", column.unit}, {"definition", column.definition}});
    Json rows = Json::array();
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        Json row = Json::array();
        if (!table.texts.empty()) row.push_back(table.texts[r]);
        for (std::size_t c = 0; c < table.columns.size(); ++c) {
            const double value = table.rows[r][c];
            if (!table.columns[c].words.empty())
                row.push_back(table.columns[c].words[r]);
            else
                row.push_back(finite_or_null(value));
        }
        rows.push_back(std::move(row));
    }
    return json_document(
        "table", {{"title", table.title}, {"columns", std::move(columns)}, {"rows", std::move(rows)}});
}

std::string paragraph(const std::string& text, int indent) {
    const std::string blanks(static_cast<std::size_t>(indent), ' ');
    std::string lines;
    for (const std::string& line : broken(words_of(text), page_width - indent))
        lines += (lines.empty() ? "" : blanks) + line + "\n";
    return lines;
}

}  // namespace limbwright::postproc
