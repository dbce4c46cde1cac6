#include "models/parts/axle_parts.hpp"

#include <limits>

#include "models/bow/spacers.hpp"

namespace limbwright::models {

using solver::Frame;
using solver::JointKind;
using solver::Mat3;
using solver::Pose;

AxleParts add_axle(const Bow& bow, const Layout& layout, End end, Builder& builder) {
    const Axle& axle = axle_of(bow, end);
    const Cam& cam = cam_of(bow, end);
    const double lateral = bow.limb.lateral;
    const Pose rest = axle_rest(bow, layout, end);
    const auto beside = [&](double y) { return Pose{rest.rotation, rest.position + y * Vec3::UnitY()}; };

    AxleParts parts;
    parts.draw_sense = sign(end);
    parts.cam_offset = cam_offset(spacers_of(layout, end));
    parts.left = builder.add_node(beside(lateral));
    parts.middle = builder.add_node(beside(parts.cam_offset));
    parts.right = builder.add_node(beside(-lateral));
    const double overhang = std::max(0., 0.5 * axle.length - lateral);
    parts.ends = {Frame::on(parts.left, Pose{{}, Vec3(overhang, 0, 0)}),
                  Frame::on(parts.right, Pose{{}, Vec3(-overhang, 0, 0)})};
    const auto section = [&](double) {
        return solver::circle({axle.material.along, axle.material.shear}, axle.diameter);
    };
    // Axis 1 of the axle's sections looks to the left, so each beam runs from right to left.
    const auto add_beam = [&](solver::NodeId from, solver::NodeId to) {
        return builder.add<solver::Beam>(
            Frame::on(from), Frame::on(to),
            solver::beam_data(builder.at_rest(Frame::on(from)), builder.at_rest(Frame::on(to)), section));
    };
    parts.beams = {add_beam(parts.middle, parts.left), add_beam(parts.right, parts.middle)};
    parts.tip_turns = {builder.add_scalar(), builder.add_scalar()};
    // Carries nothing: it only says which of all rolls of a free axle is meant. Any stiffness does.
    builder.add<solver::Spring>(
        std::vector{std::pair{parts.tip_turns[0], 1.}, std::pair{parts.tip_turns[1], 1.}},
        solver::Spring::Data{.stiffness = 1e4});

    Mat3 plane;
    plane << 0, 0, -1, 0, 1, 0, 1, 0, 0;  // u, v, w in the axle's axes Y, Z, X
    const Pose groove_plane{solver::rotation_from(plane), Vec3::Zero()};
    const bool idler = bow.cables.system == CableSystem::single_cam && end == End::top;
    if (idler) {
        parts.cam = Frame::on(parts.middle, groove_plane);
        return parts;
    }
    parts.turn = builder.add_scalar();
    parts.cam = Frame::on(parts.middle).then({JointKind::hinge, -Vec3::UnitX(), *parts.turn, groove_plane});
    if (cam.stop)
        parts.stop = builder.add<solver::Spring>(
            turn_against_limbs(parts),
            stop_data(parts, cam, parts.draw_sense * std::numeric_limits<double>::max()));
    return parts;
}

std::vector<std::pair<solver::ScalarId, double>> turn_against_limbs(const AxleParts& axle) {
    // The tips turn about +Y, the cam about −Y, all from the axle.
    return {{*axle.turn, 1.}, {axle.tip_turns[0], 0.5}, {axle.tip_turns[1], 0.5}};
}

solver::Spring::Data stop_data(const AxleParts& axle, const Cam& cam, double meets_at) {
    return {.stiffness = cam.stop_stiffness,
            .rest = meets_at,
            .side = axle.draw_sense > 0 ? solver::Side::above : solver::Side::below};
}

}  // namespace limbwright::models
