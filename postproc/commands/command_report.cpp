#include "postproc/commands/command_report.hpp"

#include <fmt/format.h>

#include <optional>
#include <stdexcept>

#include "models/bow/bow_file.hpp"
#include "postproc/files/shard.hpp"
#include "postproc/output/atomic_file.hpp"
#include "postproc/output/caution.hpp"
#include "postproc/output/usage_error.hpp"
#include "postproc/report/report_page.hpp"

namespace limbwright::postproc {
namespace {

/// @throws UsageError if it is a study of another bow
models::StudyFile study_of(const ReportArguments& arguments) {
    models::StudyFile study = models::read_study(arguments.study);
    std::error_code unknown;
    if (!std::filesystem::equivalent(study.bow_file, arguments.bow, unknown))
        throw UsageError{fmt::format("the study {} is of the bow in {}, not of that in {}",
                                     arguments.study.string(), study.bow_file.string(),
                                     arguments.bow.string())};
    return study;
}

}  // namespace

int command_report(const ReportArguments& arguments) {
    const std::filesystem::path file =
        arguments.file.empty() ? std::filesystem::path(arguments.bow.stem().string() + "_report.html")
                               : arguments.file;
    if (file.extension() != ".html" && file.extension() != ".htm")
        throw UsageError{fmt::format("-o must end in .html, but is {}", file.string())};
    const models::Bow bow = models::read_bow(arguments.bow);
    std::optional<models::StudyFile> study;
    std::optional<models::Tear> tear;
    if (!arguments.study.empty()) study = study_of(arguments);
    if (!arguments.tear.empty()) tear = models::read_tear(arguments.tear, bow.shooter.hand);
    const ReportOptions options{.study = study ? &*study : nullptr,
                                .tear = tear ? &*tear : nullptr,
                                .threads = arguments.threads.value_or(threads_for({}))};
    std::optional<ReportData> data;
    try {
        data = report_data(bow, options);
    } catch (const std::runtime_error& error) {
        fmt::print(stderr, "{} could not be strung and drawn: {}\n", bow.name, error.what());
        return 1;
    }
    for (const std::string& warning : data->warnings) fmt::print(stderr, "warning: {}\n", warning);
    write_whole_file(file, to_html(*data));
    fmt::print("The report is in {}.\n", file.string());
    fmt::print(stderr, "{}", caution);
    return 0;
}

}  // namespace limbwright::postproc
