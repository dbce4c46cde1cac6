#pragma once

#include <string>
#include <vector>

#include "models/tuning/bench_setup.hpp"
#include "models/tuning/tear.hpp"

/// What tuners commonly do about a tear to one side (common practice), held against the model.
namespace limbwright::models {

enum class PracticeVerdict { agrees, disagrees, indifferent };

/// One statement, and what the model says of it.
struct Practice {
    std::string statement;  ///< "a tail-left tear is answered by both cams farther left"
    std::string tried;      ///< the change that the model was given: "both cams 1 mm left"
    double turn = 0;        ///< change of the tail turn, lateral [deg]
    double slope = 0;       ///< change of the end slope, lateral [deg]
    PracticeVerdict verdict = PracticeVerdict::indifferent;
    std::string why;  ///< which measure moved by how much, in a sentence
};

/// Less than so much is nothing [deg]: it moves the nock's hole in the paper by about 0.1 mm.
inline constexpr double practice_threshold = 0.01;

/// The model's criterion: a change answers a tail-left tear if it lowers the tail turn
/// (`tear_measures`), that is, if the string carries the arrow's tail less to the left, or more to the
/// right, from full draw to brace; and if it does not at the same time raise the end slope. Agreement: the
/// tail turn falls by more than the threshold. Disagreement: it rises by more. Indifferent: it hardly moves,
/// or the two measures contradict each other. For tail right the signs turn.
///
/// Statements (common practice, for a right-hander with a tail-left tear): both cams to the left; the stiffer
/// limbs to the right on both ends; guide further out, which is to the right. Tail right: the opposite of
/// each. A left-hander's are the mirror images. Each is tried as a small change to today's bow, string and
/// cables keeping their lengths: cams 1 mm, limbs one number softer on one side and one stiffer on the
/// other, guide 1 mm.
///
/// @return  empty for a tear that goes neither left nor right
[[nodiscard]] std::vector<Practice> check_practice(const TuneSolver& solver, const Tear& tear);

}  // namespace limbwright::models
