#include "postproc/scene/bow_scene.hpp"

#include "postproc/scene/beam_geometry.hpp"
#include "postproc/scene/bow_shells.hpp"
#include "postproc/scene/cable_pieces.hpp"
#include "postproc/scene/cam_pieces.hpp"

namespace limbwright::postproc {

Scene scene_of(const models::StrungBow& strung, const models::DrawState& state) {
    const models::AssembledBow& bow = strung.bow;
    // The brace state's nocking point stands on the X axis, as far back as the draw begins.
    Scene scene{state.draw + strung.brace.state.at(bow.nock[0]), {}};
    for (const Bar& bar : bars_of(bow)) scene.pieces.push_back(bar_piece(bow, bar, state.state));
    for (const auto& pieces :
         {shell_pieces, track_pieces, hub_pieces, cable_pieces, guide_pieces, arrow_pieces})
        for (Piece& piece : pieces(bow, state.state)) scene.pieces.push_back(std::move(piece));
    return scene;
}

std::vector<Scene> scenes_of(const models::StrungBow& strung, const models::Draw& draw) {
    std::vector<Scene> scenes;
    for (const models::DrawState& state : draw.states) scenes.push_back(scene_of(strung, state));
    return scenes;
}

}  // namespace limbwright::postproc
