#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "models/matching/bow_log.hpp"
#include "models/matching/calibration.hpp"

/// What cure and log have in common: a bow, its log, and what a person brings from the bench.
namespace limbwright::postproc {

struct SessionArguments {
    std::filesystem::path bow;
    std::filesystem::path log;       ///< empty: none; a file that is not there yet has no entries
    std::filesystem::path bench;     ///< file of what was measured; empty: nothing new
    std::filesystem::path tear;      ///< file; empty: the tear is told by the next three, or not at all
    std::string tail;                ///< "left", "high right", …; "none": a hole without a tear
    std::optional<double> size;      ///< [mm]
    std::optional<double> distance;  ///< [mm]
    std::string date;                ///< of what is entered; empty: now
    std::string remark;
    bool not_rebuilt = false;  ///< the log's last plan was not carried out
};

/// All that is known of the bow, what is entered now included.
struct Session {
    models::Bow bow;                     ///< the bow file's
    std::vector<models::LogEntry> log;   ///< what is entered now is its last entry
    bool entered = false;                ///< there is something new: the last entry is not in the file yet
    std::vector<models::BenchDay> days;  ///< the last one is today's layout
    std::optional<models::Tear> tear;    ///< of today's layout

    [[nodiscard]] bool measured() const;
};

/// Reads files and arguments. What is measured after a plan is of the layout that was planned, unless
/// `not_rebuilt`; the same numbers and tear once more, as when a command is given twice, are no new entry.
///
/// @throws models::InputError with complaints about files, UsageError for arguments that do not go together
[[nodiscard]] Session read_session(const SessionArguments& arguments);

/// Appends entries to a log, which is either the old one or the longer one whatever happens.
///
/// @throws std::runtime_error if it cannot be written
void append_to_log(const std::filesystem::path& file, const std::vector<models::LogEntry>& entries,
                   const models::Bow& bow);

/// Date for an entry: the argument or this machine's date and time.
///
/// @throws UsageError if the argument is no date
[[nodiscard]] std::string date_of(const std::string& argument);

/// The solver of today's bow, as matched.
///
/// @throws std::runtime_error with the reason if it cannot be strung or drawn
[[nodiscard]] models::TuneSolver solver_of(const models::Corrections& today);

}  // namespace limbwright::postproc
