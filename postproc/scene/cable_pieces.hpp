#pragma once

#include "models/parts/assembled_bow.hpp"
#include "postproc/scene/scene.hpp"

/// What runs between the cams, as it is shown.
namespace limbwright::postproc {

/// String halves, cables and yoke legs by their names, in one state, in the world: lines through their exact
/// paths, with the field tension [N], zero when slack.
[[nodiscard]] std::vector<Piece> cable_pieces(const models::AssembledBow& bow, const solver::State& state);

/// "nocking point", a short barrel on the string, and "arrow", a line from there to the arrow rest.
[[nodiscard]] std::vector<Piece> arrow_pieces(const models::AssembledBow& bow, const solver::State& state);

/// "guide slide" (with rollers: "guide rollers"), a block through which the cables run, and a stiff "guide
/// rod". A rod that bends is one of the bars, see `bars_of`. Empty without a guide.
[[nodiscard]] std::vector<Piece> guide_pieces(const models::AssembledBow& bow, const solver::State& state);

}  // namespace limbwright::postproc
