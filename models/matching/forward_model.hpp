#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "models/matching/calibration_parameters.hpp"
#include "models/matching/observables.hpp"

namespace limbwright::models {

/// A quantity of the bench that is wanted of a model.
struct BenchQuery {
    BenchQuantity quantity;
    std::optional<double> draw{};  ///< where it is told at a draw: nocking point to pivot [mm]
};

/// A bow at the bench: strung, and drawn to the few places that its measurements need.
struct BenchStates {
    StrungBow strung;
    std::vector<double> draws;          ///< nocking point to pivot: three about the peak, full draw, then one
                                        ///< for each query at a draw [mm]
    std::vector<solver::State> states;  ///< alike
};

/// What a bow shows at the bench, as a function of its match parameters, with derivatives.
///
/// Peak weight is the top of the parabola through three draw forces about the peak. A bow that gives no draw
/// length keeps the place where its draw to the stops ends today as full draw, and the stop that meets last
/// is left out: it would press there at once when anything changes.
class BenchModel {
public:
    /// @throws std::runtime_error if the bow cannot be strung or drawn as far as the queries ask
    BenchModel(const Bow& bow, std::vector<MatchParameter> parameters, std::vector<BenchQuery> queries);

    [[nodiscard]] const std::vector<MatchParameter>& parameters() const { return parameters_; }
    /// Of the bow as given.
    [[nodiscard]] const BenchStates& start() const { return start_; }

    /// The bow with other values, from states nearby; none if they are too far away or there is no such bow.
    [[nodiscard]] std::optional<BenchStates> solve(const solver::VecX& values, const BenchStates& near) const;

    /// One number for each query, in inside units.
    [[nodiscard]] solver::VecX values(const BenchStates& states) const;

    /// d values / d parameters. Quantities are read off the bows at p ± h in the states q ± h dq/dp
    /// (`StateSensitivity`), p a parameter. Lengths are re-timed where they follow from brace.
    ///
    /// @param which  parameters whose columns are wanted; the others' are zero. None: all
    /// @throws std::runtime_error if a tangent has no inverse
    [[nodiscard]] solver::MatX slopes(const BenchStates& states,
                                      const std::optional<std::vector<int>>& which = {}) const;

    /// States with the three about the peak moved to where the peak now is; none if they are not found.
    [[nodiscard]] std::optional<BenchStates> centred(const BenchStates& states) const;
    /// How far the peak lies from the middle one of the three [mm].
    [[nodiscard]] double off_centre(const BenchStates& states) const;

private:
    [[nodiscard]] bool find_states(BenchStates& states, const std::vector<solver::State>& near) const;
    /// Stops placed, but for the one to which the bow is drawn.
    void settle_stops(StrungBow& strung) const;
    /// @param states, force  drawn, and the draw force in each
    [[nodiscard]] solver::VecX values(const StrungBow& strung, std::span<const solver::State> states,
                                      const solver::VecX& force) const;

    Bow bow_;
    std::vector<MatchParameter> parameters_;
    std::vector<BenchQuery> queries_;
    std::vector<std::size_t> places_;  ///< of each query's own draw among the draws
    BenchStates start_;
    std::array<bool, 2> left_out_{};  ///< the draw stops, top and bottom
};

}  // namespace limbwright::models
