#pragma once

#include <compare>
#include <limits>
#include <string>
#include <vector>

#include "models/bow/spacers.hpp"
#include "models/states/measures.hpp"
#include "models/states/natural_lengths.hpp"

/// What a study of layouts asks: what may change, what must hold, what is wanted. Plain values, as the
/// study's file says them.
namespace limbwright::models {

/// Values from the first to the last in equal steps.
struct Steps {
    double from = 0, to = 0;
    double step = 0;  ///< positive; the last value is the last that does not pass `to`
};

/// A measure at a place; with `less`, that measure less another one at the same place ("both leans equal").
struct Quantity {
    std::string measure;  ///< its id in the table of measures
    std::string less;     ///< likewise; empty: nothing is taken off
    DrawPlace at = DrawPlace::full_draw;
    auto operator<=>(const Quantity&) const = default;
};

enum class Wish { target, least, most };

/// One thing that is wanted. How far a layout misses it, in the measure's unit:
///
///     target: max(0, |value − target| − within),    least: value,    most: −value;
///
/// a layout's score is Σ weight × miss, and less is better.
struct Aim {
    Quantity quantity;
    Wish wish = Wish::target;
    double target = 0;  ///< in the measure's unit, as all of these
    double within = 0;
    double weight = 1;  ///< per unit of the measure
};

/// What must hold, in the measure's unit; infinite where there is no limit.
struct Limit {
    Quantity quantity;
    double at_least = -std::numeric_limits<double>::infinity();
    double at_most = std::numeric_limits<double>::infinity();
};

/// A range of a setting, where it may change; in its own unit inside (mm, rad, turns, N mm).
struct SettingRange {
    std::string setting;  ///< name in the table of settings
    Steps steps;
};

/// What may change: limbs in hand, spacers in hand, and ranges of settings; together they make a product.
struct Study {
    std::string name;
    std::vector<double> limbs;        ///< deflection numbers in hand, as many as pockets or more; empty: stay
    std::vector<SpacerKind> spacers;  ///< the box; empty: stay
    std::vector<SettingRange> ranges;
    LengthRule lengths = LengthRule::kept;
    int states = 3;  ///< per layout: brace, peak, full draw; with more, the others lie evenly between
    std::vector<Aim> aims;
    std::vector<Limit> limits;
    int keep = 20;          ///< layouts that the ranked table shows
    int drawn = 3;          ///< best layouts that are drawn in full
    int solve_all = 50000;  ///< products up to this size are solved in full, larger ones screened first
};

}  // namespace limbwright::models
