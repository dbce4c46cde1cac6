#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "models/bow/bow.hpp"
#include "models/input/input_error.hpp"
#include "models/input/table_reader.hpp"
#include "models/tuning/measurement.hpp"

namespace limbwright::models {

/// What was measured on one bow, one day.
struct BenchRecord {
    std::string name;
    std::vector<Measurement> measurements;
    std::map<std::string, double>
        bow_sure;  ///< standard deviations of the bow file's numbers, by the keys of
                   ///< `match_parameters`, inside units; others have their default
};

/// Most rows of a force-draw curve that are matched; of a longer one, those nearest to so many even draws.
inline constexpr int most_curve_rows = 9;

/// The bench file: TOML,
///
///     name = "after the new string"
///     axle_to_axle = "33.05 in"                                    # as sure as `bench_sigma` says
///     brace_height = { is = "7.02 in", sure = "0.5 mm" }           # or with a standard deviation
///     draw_weight = [ { at = "24 in", force = "57.6 lbf" } ]
///     force_draw = { file = "curve.csv", sure = "1 lbf" }          # header draw_in,force_lbf or
///     draw_mm,force_N [bow_sure]                                                    # of the bow file's own
///     numbers limb_stiffness = "3 %"
///
/// @throws InputError with every complaint about the file and the curve that it names
[[nodiscard]] BenchRecord read_bench(const std::filesystem::path& file, const Bow& bow);

/// The same from text in memory.
[[nodiscard]] BenchRecord bench_from_toml(std::string_view text, const std::filesystem::path& file,
                                          const Bow& bow);

/// A table of standard deviations of the bow file's numbers, as [bow_sure] in a bench file.
[[nodiscard]] std::map<std::string, double> bow_sure_in(TableReader& table, const Bow& bow);
/// The same as a table on one line.
[[nodiscard]] std::string bow_sure_text(const std::map<std::string, double>& sure, const Bow& bow);

/// The number to a hundredth of its standard deviation, that to three digits, for files that people read.
[[nodiscard]] Measurement rounded(Measurement number, const Dimension& dimension);

/// A bench file to fill in: numbers that are known stand in it, every other quantity of this bow is a
/// commented line that says what it means and, where that is known, what is expected.
///
/// @param expected  with their standard deviations; may be empty
[[nodiscard]] std::string bench_form(const Bow& bow, const BenchRecord& known,
                                     const std::vector<Measurement>& expected);

}  // namespace limbwright::models
