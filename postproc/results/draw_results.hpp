#pragma once

#include "models/states/draw_measures.hpp"
#include "models/states/measures.hpp"
#include "postproc/files/draw_record.hpp"
#include "postproc/output/table.hpp"

/// A draw as tables and as a record to file.
namespace limbwright::postproc {

/// A draw with all its measures taken.
struct MeasuredDraw {
    const models::StrungBow& strung;
    const models::Draw& draw;
    std::vector<models::Measure> measures;
    std::vector<std::vector<double>> values;  ///< one vector a measure, over the states
};
[[nodiscard]] MeasuredDraw measured(const models::StrungBow& strung, const models::Draw& draw);

/// Values of a measure.
///
/// @throws std::invalid_argument if there is none of that id
[[nodiscard]] const std::vector<double>& values_of(const MeasuredDraw& draw, std::string_view id);

/// Every state measure at brace, at peak weight and in the last state: one row a measure.
[[nodiscard]] Table state_table(const MeasuredDraw& draw);
/// Every measure of the draw as a whole: one row each.
[[nodiscard]] Table draw_table(const MeasuredDraw& draw);
/// The draw itself: force, lean and nock travel over about a dozen of the states, the first and last among
/// them.
[[nodiscard]] Table course_table(const MeasuredDraw& draw);
/// Everything as JSON: measures over all states, measures of the draw, warnings, and the failure if there is
/// one.
[[nodiscard]] nlohmann::ordered_json to_json(const MeasuredDraw& draw);

/// Everything to file.
///
/// @param bow_file  text of the bow's file as it was read
[[nodiscard]] DrawRecord record_of(const MeasuredDraw& draw, const std::string& bow_file);

}  // namespace limbwright::postproc
