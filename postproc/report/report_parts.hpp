#pragma once

#include <string_view>

/// Texts that every report carries along. The build makes their source out of the files in postproc/report
/// and of Debian's package libjs-chart.js (see CMakeLists.txt).
namespace limbwright::postproc::report_parts {

extern const std::string_view style;           ///< report.css
extern const std::string_view script;          ///< report.js
extern const std::string_view bow_script;      ///< bow.js: the bow in three dimensions
extern const std::string_view charts;          ///< the library Chart.js, minified
extern const std::string_view charts_licence;  ///< its licence, as the package has it

}  // namespace limbwright::postproc::report_parts
