#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/matching/bench_file.hpp"
#include "models/matching/forward_model.hpp"
#include "models/tuning/bench_setup.hpp"

/// One bow at the bench on several days, in a layout of its own each day.
namespace limbwright::models {

/// What was measured of one layout.
struct BenchDay {
    std::string name;  ///< its date; may be empty for a single day
    Layout layout;
    BenchSheet sheet;
};

/// The states of each day's bow.
using DayStates = std::vector<BenchStates>;

/// What a bow shows on all days as a function of all its parameters, with derivatives: a `BenchModel` for
/// each day, with these parameters in common: limb stiffness, each limb's number wherever the limb sits, what
/// pockets, bolts, guide and rest are off by, string and cables. What was set up at brace (axle-to-axle,
/// nocking point, brace height, marks) is each day's own where lengths follow from it, for the bow was
/// re-timed in between; limbs that come in later have a number of their own. The arrow rest is among the
/// parameters only where it was measured.
class JointModel {
public:
    /// @param days  at least one
    /// @throws std::runtime_error if a day's bow cannot be strung or drawn as far as its measurements ask,
    /// std::invalid_argument for a measurement that this bow has not
    JointModel(const Bow& bow, const std::vector<BenchDay>& days);

    /// Of all days: the first day's, then what later ones have of their own.
    [[nodiscard]] const std::vector<MatchParameter>& parameters() const { return parameters_; }
    [[nodiscard]] const solver::VecX& prior() const { return prior_; }  ///< the bow file's values

    /// The bow of a day as labelled, its parameters, and the place of each among all.
    struct Day {
        Bow bow;
        std::vector<MatchParameter> parameters;
        std::vector<int> places;
    };
    [[nodiscard]] const std::vector<Day>& days() const { return days_; }
    /// By what a day's parameters differ from the bow file's, given the values of all.
    [[nodiscard]] solver::VecX change(const Day& day, const solver::VecX& values) const;

    [[nodiscard]] const DayStates& start() const { return start_; }
    /// As in `BenchModel`; measurements stand day by day.
    [[nodiscard]] std::optional<DayStates> solve(const solver::VecX& values, const DayStates& near) const;
    [[nodiscard]] solver::VecX values(const DayStates& states) const;
    [[nodiscard]] solver::MatX slopes(const DayStates& states,
                                      const std::optional<std::vector<int>>& which = {}) const;
    [[nodiscard]] DayStates centred(const DayStates& states) const;
    [[nodiscard]] double off_centre(const DayStates& states) const;

private:
    /// The day's parameters with their places, those that no day before it has added to all.
    void find_places(Day& day, const std::string& name);

    std::vector<MatchParameter> parameters_;
    solver::VecX prior_;
    std::vector<Day> days_;
    std::vector<BenchModel> models_;
    DayStates start_;
};

/// A query for a measurement of this bow.
///
/// @throws std::invalid_argument if the bow has no such quantity
[[nodiscard]] BenchQuery bench_query(const std::vector<BenchQuantity>& quantities, const std::string& key,
                                     std::optional<double> draw_length);

}  // namespace limbwright::models
