#pragma once

#include <string>
#include <vector>

#include "postproc/scene/scene.hpp"

/// Line drawings of scenes as SVG.
namespace limbwright::postproc {

/// From where a scene is seen, without perspective.
struct View {
    Vec3 looking =
        Vec3::UnitY();  ///< from the eye into the scene; as set here, from the archer's right, target right
    Vec3 up = Vec3::UnitZ();  ///< shown upward; not along `looking`
};

struct CaptionedScene {
    std::string caption;
    Scene scene;
};

struct BowPicture {
    std::string title;
    std::vector<CaptionedScene> scenes;  ///< side by side at one scale
    View view;
    double width = 800;   ///< of each drawing, at most [px]
    double height = 560;  ///< of each drawing, at most [px]
};

/// Faces are filled in light, shaded colours by the first word of their piece's name (riser, limb, cam, axle,
/// …), hidden by what stands before them (painter's algorithm: faces that cut through each other may show
/// wrongly). Lines are drawn on top of all faces.
///
/// @throws std::invalid_argument if the view looks along its own up
[[nodiscard]] std::string to_svg(const BowPicture& picture);

}  // namespace limbwright::postproc
