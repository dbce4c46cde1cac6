#include "models/bow/upside_down_cam.hpp"

#include <algorithm>

namespace limbwright::models {
namespace {

Track flipped(Track track) {
    track.anchor = -track.anchor;
    if (track.groove) track.groove = std::make_shared<const solver::Groove>(track.groove->mirrored());
    if (track.circle) track.circle->centre.y() *= -1;
    if (track.traced) {
        for (Vec2& point : track.traced->points) point.y() *= -1;
        std::ranges::reverse(track.traced->points);
    }
    if (track.support) {
        for (double& direction : track.support->direction) direction = -direction;
        std::ranges::reverse(track.support->direction);
        std::ranges::reverse(track.support->distance);
    }
    return track;
}

}  // namespace

Cam flipped(const Cam& cam) {
    Cam image = cam;
    image.string = flipped(cam.string);
    if (cam.take_up) image.take_up = flipped(*cam.take_up);
    if (cam.let_out) image.let_out = flipped(*cam.let_out);
    return image;
}

}  // namespace limbwright::models
