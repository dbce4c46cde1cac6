#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "models/study/study_file.hpp"
#include "postproc/output/table.hpp"
#include "postproc/report/report_layouts.hpp"
#include "postproc/report/report_scene.hpp"
#include "postproc/results/cure_results.hpp"

/// Everything that a report tells, as plain values.
namespace limbwright::postproc {

/// What the model makes of a tear, and the sheet of one cure.
struct ReportTear {
    std::string text;   ///< reading, practice and cures
    std::string sheet;  ///< SVG of one page; empty if there is no cure
    std::string title;  ///< of the sheet
};

struct ReportData {
    std::string bow;
    std::vector<std::string> warnings;  ///< of today's draw
    std::vector<ReportState> states;    ///< of today's layout: brace, full draw
    std::string side, behind;           ///< the same as still pictures, SVG
    std::vector<std::string> plots;     ///< today's curves as still pictures, SVG
    std::vector<ReportCurve> curves;
    std::vector<ReportLayout> layouts;  ///< today's first
    std::string study;                  ///< its name; empty: layouts at hand
    std::vector<std::string> notes;     ///< on the layouts
    std::vector<Table> effects;
    std::optional<ReportTear> tear;
};

struct ReportOptions {
    const models::StudyFile* study = nullptr;  ///< of this bow; none: layouts at hand
    const models::Tear* tear = nullptr;        ///< none: no cures, no sheet
    int best = 20;                             ///< layouts of the study that are drawn, at most
    int threads = 1;
};

/// Strings and draws today's bow, and gathers the rest.
///
/// @throws std::runtime_error if today's bow cannot be strung or drawn
[[nodiscard]] ReportData report_data(const models::Bow& bow, const ReportOptions& options);

/// What the report's interactive parts read: {schema, schema_version, units, curves, layouts, states}. Points
/// are rounded to 0.1 mm, leans of points and draws to 0.01 mm, curves to 0.0001 of their unit; NaN is null.
[[nodiscard]] nlohmann::ordered_json to_json(const ReportData& data);

}  // namespace limbwright::postproc
