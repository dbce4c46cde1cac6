#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

/// Numbers for people: in a terminal, and as JSON for their programs.
namespace limbwright::postproc {

/// "cam lean, top [deg]"; a pure number has no unit to show.
[[nodiscard]] std::string labelled(const std::string& name, const std::string& unit);

struct Column {
    std::string name;                  ///< words; a narrow column breaks them over several lines
    std::string unit;                  ///< as people write it; empty for a pure number
    std::string definition;            ///< one sentence, with its sign
    int digits = 2;                    ///< behind the decimal point, in the terminal only
    bool scientific = false;           ///< with a power of ten, in the terminal only
    std::vector<std::string> words{};  ///< not empty: shown in place of the numbers, one for each row
};

/// Rows of numbers under named columns. NaN means "not defined here" and is shown as "-".
struct Table {
    std::string title;
    std::vector<Column> columns;
    std::vector<std::vector<double>> rows;  ///< one value for each column
    std::string text_name;                  ///< header of `texts`
    std::vector<std::string> texts;         ///< empty, or one label for each row, shown as the first column
};

/// At most 100 characters wide. A wider table is broken into blocks of columns, each of which starts with the
/// first column again. A label longer than 40 characters is cut and ends in "…"; the JSON keeps it whole.
///
/// @throws std::invalid_argument if a row has not one value for each column, or texts or words not one for
/// each row
[[nodiscard]] std::string to_text(const Table& table);

/// {schema, schema_version, title, columns: [{name, unit, definition}], rows: [[…]]}; values at full
/// precision, NaN and infinity as null, the text column first where there is one.
///
/// @throws std::invalid_argument as `to_text`
[[nodiscard]] nlohmann::ordered_json to_json(const Table& table);

/// A text set into lines of at most 100 characters; those after the first begin with `indent` blanks. Ends
/// with a line break.
[[nodiscard]] std::string paragraph(const std::string& text, int indent = 0);

}  // namespace limbwright::postproc
