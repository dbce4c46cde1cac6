#include "models/bow/bow.hpp"

#include <map>
#include <utility>

namespace limbwright::models {
namespace {

using solver::Pose;

void mirror(Vec3& v) {
    v.y() = -v.y();
}

void mirror(Cam& cam) {
    cam.string.lateral *= -1;
    if (cam.take_up) cam.take_up->lateral *= -1;
    if (cam.let_out) cam.let_out->lateral *= -1;
}

/// M R M with M = diag(1, −1, 1): the axis of a turn is mirrored, and its sense too.
Pose mirrored(const Pose& pose) {
    Pose image = pose;
    mirror(image.position);
    image.rotation.v.x() *= -1;
    image.rotation.v.z() *= -1;
    return image;
}

meshes::Surface mirrored(const meshes::Surface& surface) {
    meshes::Surface image = surface;
    for (Pose& node : image.nodes) node = mirrored(node);
    for (meshes::SurfaceCell& cell : image.cells) {
        for (Vec3& normal : cell.normals) mirror(normal);
        mirror(cell.direction);
        // The other way round, or the normals would point to the other face.
        const int last = cell.count() - 1;
        std::swap(cell.corners[1], cell.corners[last]);
        std::swap(cell.normals[1], cell.normals[last]);
    }
    const std::map<std::string, std::string> other_side{{"left tip", "right tip"}, {"right tip", "left tip"}};
    image.sets.clear();
    for (const auto& [name, nodes] : surface.sets)
        image.sets[other_side.contains(name) ? other_side.at(name) : name] = nodes;
    return image;
}

void mirror(std::optional<PartMesh>& mesh) {
    if (mesh && mesh->surface)
        mesh->surface = std::make_shared<const meshes::Surface>(mirrored(*mesh->surface));
}

}  // namespace

Bow mirrored(const Bow& bow) {
    Bow m = bow;
    for (RiserStation& station : m.riser.stations) mirror(station.position);
    for (Vec3* v : {&m.pocket_top.position, &m.pocket_bottom.position, &m.guide.position, &m.shooter.rest})
        mirror(*v);
    mirror(m.riser.mesh);
    mirror(m.limb.mesh);
    for (LimbPly& ply : m.limb.plies) ply.angle *= -1;
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
    if (const auto rest = layout.moved.find("rest_lateral"); rest != layout.moved.end()) rest->second *= -1;
    layout.hand_yaw_torque *= -1;
    return m;
}

}  // namespace limbwright::models
