#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "models/matching/joint_forward_model.hpp"
#include "models/tuning/cure_search.hpp"
#include "models/tuning/tear.hpp"

/// The log of one bow: each layout that was measured, each change that was planned, in the order of time.
namespace limbwright::models {

/// What was planned to be done to the bow.
struct Plan {
    std::string change;                  ///< "guide 2 mm left"
    double answered = 0;                 ///< share of the tear that it is predicted to take away
    double sure = 0;                     ///< standard deviation of that
    std::vector<Measurement> predicted;  ///< what will be measured then; `sigma`: how sure that is
};

/// One entry: what was measured of a layout, or a plan that leads to a layout.
struct LogEntry {
    std::string date;  ///< "2026-11-25" or "2026-11-25 18:40"
    Layout layout;     ///< of a plan, the one it leads to
    std::vector<Measurement> measured;
    std::map<std::string, double> bow_sure;  ///< as in `BenchSheet`
    std::optional<Tear> tear;                ///< with its size and sides only
    std::optional<Plan> plan;
    std::string remark;
    std::string file;  ///< where it stands, for messages
    int line = 0;
};

/// A date such as "2026-11-25" or "2026-11-25 18:40" that there is.
[[nodiscard]] bool is_date(std::string_view text);

/// An entry as it stands in a log: a TOML table [[entry]], and no other key. A log is nothing but its
/// entries, so that two logs are merged by putting one after the other.
[[nodiscard]] std::string to_toml(const LogEntry& entry, const Bow& bow);

/// Reads a log; entries come in the order of their dates, those of one date as they stand in the file. An
/// entry that stands there twice, as when two copies of one log went on apart, counts once.
///
/// @param bow  whose log it is
/// @throws InputError with every complaint about the file
[[nodiscard]] std::vector<LogEntry> read_log(const std::filesystem::path& file, const Bow& bow);

/// The same from text in memory.
[[nodiscard]] std::vector<LogEntry> log_from_toml(std::string_view text, const std::string& file,
                                                  const Bow& bow);

/// The layout that a bow with this log stands in: the last entry's; the bow file's where there is none.
[[nodiscard]] Layout layout_after(const std::vector<LogEntry>& log, const Bow& bow);

/// The bow's layouts, with what was measured of each: entries that follow each other in one layout are one
/// day, though something else was planned in between.
[[nodiscard]] std::vector<BenchDay> days_of(const std::vector<LogEntry>& log, const Bow& bow);

/// True if both say the same of every limb, spacer, key and twist.
[[nodiscard]] bool same_layout(const Bow& bow, const Layout& a, const Layout& b);

}  // namespace limbwright::models
