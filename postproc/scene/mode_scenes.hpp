#pragma once

#include "models/states/bow_modes.hpp"
#include "postproc/scene/bow_scene.hpp"

/// A free motion of the bow as a film.
namespace limbwright::postproc {

/// What one period looks like: x(t) = state moved by a·sin(2π t/T) times the mode's shape, at `phases` equal
/// times from t = 0, which is the state itself. The parameter of a scene is t/T. The amplitude a is chosen to
/// be seen: the farthest point moves 20 mm, but nothing turns by more than 0.3 rad; less where a cable would
/// lose its path.
[[nodiscard]] std::vector<Scene> mode_scenes(const models::StrungBow& strung, const models::DrawState& state,
                                             const models::BowMode& mode, int phases = 24);

}  // namespace limbwright::postproc
