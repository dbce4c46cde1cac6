#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "models/study/study_file.hpp"
#include "models/tuning/bench_setup.hpp"
#include "postproc/results/ranking_results.hpp"

/// Layouts that a report lets people choose from, each drawn, with its curves.
namespace limbwright::postproc {

/// A measure of each state that is shown as a curve over the draw.
struct ReportCurve {
    std::string name;        ///< in the table of measures
    std::string title;       ///< for people: "Cam lean, top"
    std::string positive;    ///< what more of it means: "outer edge to the left"
    std::string unit;        ///< as the measure has it
    std::string definition;  ///< likewise
    double least_span = 0;   ///< the axis shows at least so much, or rounding noise fills it
    int digits = 2;          ///< behind the decimal point, in tables
};

/// Draw force, lean of both cams (or the idler), nock travel sideways and up.
[[nodiscard]] std::vector<ReportCurve> report_curves(const models::AssembledBow& bow);

struct ReportLayout {
    std::string name;                 ///< "today", "1", "2", …
    std::string change;               ///< from today's layout, in words, "as today" if nothing differs; of
                                      ///< today's: what stands in the bow
    std::string rework;               ///< "none", "limbs, 2 parts"
    double score = 0;                 ///< of a study; NaN where there is none
    std::vector<std::string> broken;  ///< limits that it breaks
    std::vector<double> draw;         ///< nocking point to pivot point in each state [mm]
    std::vector<std::vector<double>> curves;  ///< one for each of `report_curves`, a value for each state
    std::string failure;                      ///< why it could not be strung or drawn; empty if it could
};

/// Today's layout first, then what lies nearest at hand without any study: the other pairings of the limbs
/// that stand in the bow, each cam 1 mm to either side, both together, and the guide 1 mm to either side.
/// Lengths are re-timed, as after any work on the press, but for the guide; see `TuneSolver`.
///
/// @param threads  at least one
[[nodiscard]] std::vector<ReportLayout> layouts_at_hand(const models::TuneSolver& solver, int threads);

/// Today's layout and the best of a study.
struct StudiedLayouts {
    std::string study;  ///< its name
    std::vector<ReportLayout> layouts;
    std::vector<std::string> notes;  ///< sentences about the study and the run
};

/// Solves a study as `limbwright rank` does, without files, and draws the best of its layouts in full.
///
/// @param count  of the best ones, at most
/// @throws std::runtime_error if today's bow cannot be strung or drawn
[[nodiscard]] StudiedLayouts layouts_of_study(const models::StudyFile& study, int count, int threads);

}  // namespace limbwright::postproc
