#pragma once

#include <string>
#include <vector>

#include "models/study/full_draws.hpp"
#include "postproc/output/plot.hpp"

/// Today's layout and the best few in one picture each. The curves' names stand in the legend, in their
/// order.
namespace limbwright::postproc {

/// One measure along the draws that came to their end, a curve each; none where the bow has no such measure.
[[nodiscard]] std::vector<Curve> curves_of(const std::vector<models::FullDraw>& draws,
                                           const std::string& measure);

/// Sideways path of the nocking points, less their places at brace.
///
/// @param lateral  x: nocking point to pivot point [mm]; y: to the archer's left in the riser's frame [mm]
/// @throws std::invalid_argument, by `to_svg`, if a curve has not as many y as x
[[nodiscard]] Plot compared_nock_travel(std::vector<Curve> lateral);

/// Draw force, and below it how far each differs from the first, at the first's draws: between layouts that
/// is a few newtons, which the upper panel does not show.
///
/// @param force  x: nocking point to pivot point, rising [mm]; y: draw force [N]
/// @throws std::invalid_argument if a curve has not as many y as x
[[nodiscard]] Plot compared_draw_force(std::vector<Curve> force);

/// How much a torque of the hand disturbs the arrow's yaw, and below it the nocking point, along the draw.
///
/// @param arrow_yaw    x: nocking point to pivot point [mm]; y: yaw per hand yaw torque [deg/(N m)]
/// @param nock_travel  the same for the nocking point's sideways travel [mm/(N m)]
[[nodiscard]] Plot compared_forgiveness(std::vector<Curve> arrow_yaw, std::vector<Curve> nock_travel);

}  // namespace limbwright::postproc
