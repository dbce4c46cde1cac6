#include "models/bow/upside_down_cam.hpp"

#include <algorithm>
#include <tuple>

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

bool alike(const Track& a, const Track& b) {
    const auto circle = [](const Track& t) { return std::tuple(t.circle->centre, t.circle->radius); };
    const auto support = [](const Track& t) { return std::tie(t.support->direction, t.support->distance); };
    return a.lateral == b.lateral && a.anchor == b.anchor && a.circle.has_value() == b.circle.has_value() &&
           a.traced.has_value() == b.traced.has_value() && a.support.has_value() == b.support.has_value() &&
           (!a.circle || circle(a) == circle(b)) && (!a.traced || a.traced->points == b.traced->points) &&
           (!a.support || support(a) == support(b));
}

bool alike(const std::optional<Track>& a, const std::optional<Track>& b) {
    return a.has_value() == b.has_value() && (!a || alike(*a, *b));
}

}  // namespace

Cam flipped(const Cam& cam) {
    Cam image = cam;
    image.string = flipped(cam.string);
    if (cam.take_up) image.take_up = flipped(*cam.take_up);
    if (cam.let_out) image.let_out = flipped(*cam.let_out);
    return image;
}

bool is_upside_down(const Cam& cam, const Cam& other) {
    const Cam image = flipped(other);
    const auto numbers = [](const Cam& c) { return std::tie(c.hub, c.stop, c.stop_stiffness, c.mass); };
    return numbers(cam) == numbers(image) && alike(cam.string, image.string) &&
           alike(cam.take_up, image.take_up) && alike(cam.let_out, image.let_out);
}

}  // namespace limbwright::models
