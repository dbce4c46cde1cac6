#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "models/states/draw.hpp"
#include "postproc/scene/scene.hpp"

/// The bow's geometry for the report: triangles only, upright, and how each point goes along when the lean is
/// enlarged.
namespace limbwright::postproc {

/// One part. Its triangles index its own points.
struct ReportPiece {
    std::string name;
    std::vector<Vec3> points;  ///< in the bow's own frame [mm]
    std::vector<Vec3> lean;    ///< of each point: what of its place is lean [mm]
    std::vector<std::array<int, 3>> triangles;
};

/// One state of the bow.
struct ReportState {
    std::string name;  ///< "brace", "full draw"
    double draw = 0;   ///< nocking point to pivot point [mm]
    double force = 0;  ///< draw force [N]
    std::vector<ReportPiece> pieces;
};

/// The scene of a state, in the bow's own frame. With the lean enlarged k times a point stands at
///
///     p + (k − 1) d,    d = w (θ × r + y_c Y),    θ = Y × a
///
/// to first order, where a is the direction of the axle of the point's end, right to left, y_c how far the
/// middle between its limb tips stands to the left of the bow's plane, and r the way from that middle to the
/// point, no longer than the cam's radius. The weight w is 1 for what sits on an axle; it grows along a limb
/// with the square of the distance from the pocket, as a cantilever bends; strings and cables pass from one
/// end's d to the other's evenly along the height. Riser, guide and arrow stay.
[[nodiscard]] ReportState report_state(const models::StrungBow& strung, const models::DrawState& state,
                                       std::string_view name);

}  // namespace limbwright::postproc
