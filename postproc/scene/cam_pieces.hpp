#pragma once

#include "models/parts/assembled_bow.hpp"
#include "postproc/scene/scene.hpp"

/// What stands between the limb tips, as it is shown.
namespace limbwright::postproc {

/// Cams and idler in one state, in the world: each track is a thin disc with the groove's outline (on the
/// cables' centre lines; an open groove is closed by a straight edge) in its own plane: "cam top string
/// track", "cam top take-up track", "cam top let-out track", "idler string track".
[[nodiscard]] std::vector<Piece> track_pieces(const models::AssembledBow& bow, const solver::State& state);

/// Hubs and spacers as plain discs round the axles, spacers from the hub outward: "cam top hub", "spacer top
/// left 1". The bow does not say how thick they are across; a hub is drawn with three and a spacer with two
/// axle diameters.
[[nodiscard]] std::vector<Piece> hub_pieces(const models::AssembledBow& bow, const solver::State& state);

}  // namespace limbwright::postproc
