#include "models/bow.hpp"

#include <utility>

namespace limbwright::models {
namespace {

void mirror(Vec3& v) {
    v.y() = -v.y();
}

void mirror(Cam& cam) {
    cam.string.lateral *= -1;
    if (cam.take_up) cam.take_up->lateral *= -1;
    if (cam.let_out) cam.let_out->lateral *= -1;
}

}  // namespace

Bow mirrored(const Bow& bow) {
    Bow m = bow;
    for (RiserStation& station : m.riser.stations) mirror(station.position);
    for (Vec3* v : {&m.pocket_top.position, &m.pocket_bottom.position, &m.guide.position, &m.shooter.rest})
        mirror(*v);
    mirror(m.cam_top);
    mirror(m.cam_bottom);
    m.guide.spacing *= -1;
    m.shooter.hand = bow.shooter.hand == Hand::right ? Hand::left : Hand::right;
    Layout& layout = m.layout;
    std::swap(layout.pairing.top_left, layout.pairing.top_right);
    std::swap(layout.pairing.bottom_left, layout.pairing.bottom_right);
    std::swap(layout.spacers_top.left, layout.spacers_top.right);
    std::swap(layout.spacers_bottom.left, layout.spacers_bottom.right);
    std::swap(layout.twist_yoke_left, layout.twist_yoke_right);
    layout.guide_lateral *= -1;
    layout.guide_angle *= -1;
    layout.hand_yaw_torque *= -1;
    return m;
}

}  // namespace limbwright::models
