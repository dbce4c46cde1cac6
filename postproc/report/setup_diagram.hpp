#pragma once

#include "models/tuning/bench_setup.hpp"
#include "postproc/output/print_page.hpp"

namespace limbwright::postproc {

/// Where a drawing goes on a page.
struct Frame {
    Vec2 corner = Vec2::Zero();  ///< top left [px]
    double width = 340;          ///< [px]
    double size = 10;            ///< of its texts [px]
};

/// Draws a tune as the archer sees the bow: the four limbs with their numbers in their pockets, at each end
/// the cam with its spacers left and right to scale, and what keys set. Where it differs from another tune
/// it is drawn with thick lines and set in bold.
///
/// @param today  the tune to compare with
/// @return  y below the drawing [px]
double draw_tune(Page& page, const Frame& frame, const models::Bow& bow, const models::Layout& tune,
                 const models::Layout& today, std::string_view caption);

}  // namespace limbwright::postproc
