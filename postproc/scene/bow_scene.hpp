#pragma once

#include "models/states/draw.hpp"
#include "postproc/scene/scene.hpp"

/// One state of a bow as geometry with fields, for viewers and pictures.
namespace limbwright::postproc {

/// All that there is to see of one state, in the world's axes [mm]: riser, limbs, axles and a bending guide
/// rod with displacement, section forces and strain (see `bar_pieces`), cams, hubs and spacers, string and
/// cables with their tension, guide, nocking point and arrow. The parameter is the draw from brace. Pieces
/// come in the same order in every state of one bow.
[[nodiscard]] Scene scene_of(const models::StrungBow& strung, const models::DrawState& state);

/// The scenes of all states of a draw.
[[nodiscard]] std::vector<Scene> scenes_of(const models::StrungBow& strung, const models::Draw& draw);

}  // namespace limbwright::postproc
