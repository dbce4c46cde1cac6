#pragma once

#include <string>

#include "postproc/report/report_data.hpp"

/// The report as one HTML file.
namespace limbwright::postproc {

/// A file that needs nothing else: script, style, the library of the curves with its licence, and the data as
/// JSON are in it; a policy in its head forbids all network. Without a script it shows still pictures, and so
/// does the printed bow.
[[nodiscard]] std::string to_html(const ReportData& data);

}  // namespace limbwright::postproc
