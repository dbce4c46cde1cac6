#pragma once

#include "models/states/draw.hpp"
#include "postproc/output/plot.hpp"
#include "postproc/scene/bow_picture.hpp"

/// The standard pictures of a draw.
namespace limbwright::postproc {

/// Brace and full draw (the last state) side by side, seen from the archer's right, target to the right,
/// riser upright: in the bow's own frame.
[[nodiscard]] BowPicture side_view(const models::StrungBow& strung, const models::Draw& draw);

/// The same as the archer sees it, left at left. All that is sideways is enlarged by `sideways`, as heights
/// are in the profile of a road, so that lean is seen; the title says so.
[[nodiscard]] BowPicture view_from_behind(const models::StrungBow& strung, const models::Draw& draw,
                                          double sideways = 4);

/// Draw force over the draw; peak, holding weight and let-off (their difference as a share of the peak) in
/// the title.
[[nodiscard]] Plot force_draw_plot(const models::Draw& draw);

/// One angle of both cams over the draw [deg], one value a state; signs as the measures have them.
struct CamAngles {
    std::vector<double> top, bottom;  ///< `top` is empty where there is an idler
};

/// Cam lean and cam toe over the draw.
///
/// @param draw  nocking point to pivot point [mm]
/// @throws std::invalid_argument, by `to_svg`, if there are not as many angles as draws
[[nodiscard]] Plot cam_angles_plot(const std::vector<double>& draw, const CamAngles& lean,
                                   const CamAngles& toe);

/// Nock travel over the draw: the nocking point in the riser's frame, sideways and up, less its place at
/// brace.
///
/// @param draw     nocking point to pivot point [mm]
/// @param lateral  to the archer's left [mm]
/// @param height   [mm]
/// @throws std::invalid_argument, by `to_svg`, if they are not as many as the draws
[[nodiscard]] Plot nock_travel_plot(const std::vector<double>& draw, const std::vector<double>& lateral,
                                    const std::vector<double>& height);

/// Nocking point to pivot point in every state [mm].
[[nodiscard]] std::vector<double> draws_of(const models::Draw& draw);

}  // namespace limbwright::postproc
