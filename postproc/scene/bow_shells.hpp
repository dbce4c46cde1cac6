#pragma once

#include "models/parts/assembled_bow.hpp"
#include "postproc/scene/scene.hpp"

namespace limbwright::postproc {

/// Every part of a bow that is made of shells, as a closed wall in one state, with the fields of
/// `shell_piece` (stress and strain of each ply among them); displacement is told from the unloaded bow,
/// carried rigidly by the grip. Names as those of bars: "riser", "limb top left".
[[nodiscard]] std::vector<Piece> shell_pieces(const models::AssembledBow& bow, const solver::State& state);

}  // namespace limbwright::postproc
