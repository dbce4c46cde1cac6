#pragma once

#include "models/states/state_sensitivity.hpp"
#include "models/study/design_space.hpp"
#include "models/study/part_cache.hpp"
#include "models/study/recorded_measures.hpp"

namespace limbwright::models {

/// What every solver of a study's layouts starts from: today's bow, strung and drawn, and how its states
/// answer the settings that vary.
class StudyBase {
public:
    /// @throws std::runtime_error if today's bow cannot be strung or drawn
    StudyBase(const Bow& bow, const Study& study);

    [[nodiscard]] const Product& product() const { return product_; }
    [[nodiscard]] const std::vector<PlacedMeasure>& columns() const { return columns_; }
    [[nodiscard]] const StrungBow& today() const { return today_; }
    [[nodiscard]] const Study& study() const { return study_; }
    [[nodiscard]] LengthRule lengths() const { return study_.lengths; }

    /// One state that every layout is solved at, as today's bow has it.
    struct Station {
        std::optional<double> draw;  ///< nocking point to pivot [mm]; none at brace, where it is free
        solver::State state;
        std::vector<int> held;
        solver::MatX slopes;  ///< of the state by each varied setting, inside units
        solver::MatX
            bends;  ///< second derivatives by each pair of them: (0,0), (0,1), (1,1), (0,2) …; may be empty
        int negative_pivots = 0;
    };
    [[nodiscard]] const std::vector<Station>& stations() const { return stations_; }
    /// A station's state in a layout, to second order.
    ///
    /// @param point  changes of the varied settings from today
    [[nodiscard]] solver::State predicted(const Station& station, const solver::VecX& point) const;
    [[nodiscard]] std::size_t peak() const { return peak_; }
    /// Whether a column is read off a station that needs `DrawState::yaw_torque_effect`.
    [[nodiscard]] bool needs_yaw_torque_effect(std::size_t station) const;

    /// Natural lengths, twists counted [mm], in the order of `cut_parts`: today's, and their slopes by the
    /// varied settings.
    [[nodiscard]] const solver::VecX& length_today() const { return lengths_; }
    [[nodiscard]] const solver::MatX& length_slopes() const { return length_slopes_; }
    /// For re-timing.
    [[nodiscard]] const BraceByLengths& by_lengths() const { return by_lengths_; }
    [[nodiscard]] const Rebuilds& rebuilds() const { return rebuilds_; }
    [[nodiscard]] double energy_scale() const { return energy_scale_; }

private:
    void add_station(std::optional<double> draw, const solver::State& state, const std::vector<int>& held);
    void find_slopes();
    void find_bends();
    [[nodiscard]] StrungBow rebuilt(const Layout& layout) const;
    [[nodiscard]] StrungBow rebuilt(const Setting& setting, double change) const;
    [[nodiscard]] std::optional<std::vector<solver::VecX>> steps_to(const solver::VecX& point) const;

    Study study_;
    Product product_;
    StrungBow today_;
    std::vector<PlacedMeasure> columns_;
    Rebuilds rebuilds_;
    std::vector<Station> stations_;
    std::size_t peak_ = 0;
    solver::VecX lengths_;
    solver::MatX length_slopes_;
    BraceByLengths by_lengths_;
    double energy_scale_ = 1;
};

}  // namespace limbwright::models
