#pragma once

#include "models/states/draw_measures.hpp"
#include "models/states/measures.hpp"
#include "models/study/objective.hpp"

/// Which numbers a study keeps of every layout, and how they are read off its states.
namespace limbwright::models {

/// What a tuner looks at, and everything that the study's aims and limits ask for, each once.
[[nodiscard]] std::vector<RecordedMeasure> columns_of(const Study& study, const AssembledBow& bow);

/// A column's measure as its table has it.
struct ColumnMeaning {
    std::string definition;
    int digits = 2;
};

/// Where states of a short draw stand: brace first, full draw last.
struct ShortDraw {
    Draw draw;
    std::size_t peak = 0;  ///< the state at the draw of today's peak weight
};

/// Reads columns off the few states of a layout.
class ColumnReader {
public:
    /// @throws std::invalid_argument if a column's measure is in no table
    ColumnReader(const std::vector<RecordedMeasure>& columns, const AssembledBow& bow);

    [[nodiscard]] std::vector<double> read(const StrungBow& strung, const ShortDraw& states) const;
    [[nodiscard]] const std::vector<ColumnMeaning>& meanings() const { return meanings_; }
    /// Whether a column at that place needs `DrawState::yaw_torque_effect`.
    [[nodiscard]] bool needs_yaw_torque_effect(DrawPlace place) const;
    /// Whether any column needs `DrawState::energy`.
    [[nodiscard]] bool needs_energy() const { return needs_energy_; }

private:
    struct Source {
        DrawPlace at;
        std::function<double(const StateView&)> state;
        std::function<double(const StrungBow&, const Draw&)> draw;
        bool yaw = false;
    };
    std::vector<Source> sources_;
    std::vector<ColumnMeaning> meanings_;
    bool needs_energy_ = false;
};

}  // namespace limbwright::models
