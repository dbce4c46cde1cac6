#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <map>
#include <set>
#include <span>
#include <string_view>
#include <vector>

#include "models/study/response_surface.hpp"
#include "models/study/training_sample.hpp"

/// Which of very many layouts may be among the best, found by solving a few of them.
namespace limbwright::models {

/// Score of a layout whose values are known to ± an error each; less is better.
struct ScoreBounds {
    double least = 0, largest = 0;
    bool can_hold = true;   ///< some value within the errors keeps all limits
    bool must_hold = true;  ///< every value within the errors keeps all limits
};

/// Values of all columns for each of some layouts; an empty row where a layout could not be solved.
using SolveRows = std::function<std::vector<std::vector<double>>(std::span<const std::int64_t>)>;

struct ScreeningTask {
    Space space;
    int columns = 0;
    /// Called from several threads at once. With errors of 0 both scores are the score.
    std::function<ScoreBounds(const double* values, const double* errors)> bounds;
    int keep = 20;  ///< how many of the best are wanted
    SolveRows solve;
    int threads = 2;
    std::int64_t most_candidates = 200'000;  ///< given at a time
    /// Called on the calling thread with what is being done and the share of it that is done; may be empty.
    std::function<void(std::string_view, double)> progress;
};

/// What is known of all layouts. `screen` makes it, `check_candidates` learns from solved candidates.
struct Screening {
    std::vector<std::int64_t> candidates;  ///< sorted; all that may be among the best, if none are waiting
    std::int64_t waiting = 0;      ///< further ones that may be, beyond the most that are given at a time
    std::int64_t bounded_out = 0;  ///< cannot be among the best, going by the errors below
    bool modelled = false;  ///< false: too few layouts or too many that fail, and every layout is a candidate

    int degree = 0, terms = 0;
    int fitted = 0, checked = 0;  ///< layouts whose values the model was fitted to, was compared with
    int tried = 0, failed = 0;    ///< solved for fit and check in all; those of them that failed
    /// What the values of a layout may differ from the model, per column, in the column's unit.
    std::vector<double> errors;
    /// Largest |value − model| of layouts solved after the check, as a share of the errors at that time.
    std::vector<double> worst_shares;
    double threshold = std::numeric_limits<double>::infinity();  ///< `keep` layouts score this or less
    /// Least score of the best layout bounded out for its score, less the threshold; infinite if there is
    /// none.
    double margin = std::numeric_limits<double>::infinity();

    Response model;
    std::map<std::int64_t, double> scores;  ///< of layouts solved so far that hold all limits
    std::set<std::int64_t> failures;        ///< layouts that could not be solved
};

/// Solves some layouts (4 × terms of the model), fits a polynomial in the settings to every column, compares
/// it with twice as many others, and bounds the score of every layout:
///
///     errors = 2 × largest |value − model| of the layouts compared,
///     threshold = the score that `keep` layouts are sure to meet,
///     candidates = all that can hold the limits and whose least score is at or under the threshold.
///
/// The degree is 3; less where the product is small, 4 where that saves more candidates than it costs. The
/// errors are measured, not proven: values of a few other layouts may stray further, above all at corners of
/// the box and where a draw stop starts to act. Therefore all candidates are to be solved and handed to
/// `check_candidates`; a layout that the model bounds out wrongly stays unseen.
///
/// Results do not depend on the number of threads.
[[nodiscard]] Screening screen(const ScreeningTask& task);

/// Compares solved candidates with the model. If one lies outside the errors, or if candidates failed so that
/// too few are left, or some are still waiting, all layouts are bounded anew.
///
/// @return further candidates, to be solved and handed over likewise until there are none; they are among
///         `screening.candidates` already
[[nodiscard]] std::vector<std::int64_t> check_candidates(const ScreeningTask& task, Screening& screening,
                                                         std::span<const std::int64_t> numbers,
                                                         const std::vector<std::vector<double>>& rows);

}  // namespace limbwright::models
