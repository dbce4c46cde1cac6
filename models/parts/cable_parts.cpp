#include "models/parts/cable_parts.hpp"

#include <cmath>
#include <numbers>

#include "models/bow/track_groove.hpp"

namespace limbwright::models {

using solver::Contact;
using solver::Frame;
using solver::Pose;

GuideParts add_guide(const Bow& bow, const Layout& layout, const RiserParts& riser, Builder& builder) {
    const Guide& guide = bow.guide;
    GuideParts parts;
    if (guide.kind == GuideKind::none) return parts;
    const solver::Rotation turn = solver::exp<double>(Vec3(layout.guide_angle * Vec3::UnitZ()));
    const Pose middle{turn, guide.position + layout.guide_lateral * Vec3::UnitY()};
    Frame carrier = riser.at(middle);
    if (guide.kind == GuideKind::bending_rod) {
        // From the riser toward the archer; axis 1 along the rod.
        const solver::Rotation along = turn * solver::exp<double>(Vec3(std::numbers::pi * Vec3::UnitZ()));
        const Pose foot{along, middle * Vec3(guide.rod_length, 0, 0)};
        const int pieces = 4;
        const auto at = [&](int i) { return foot * Pose{{}, Vec3(guide.rod_length * i / pieces, 0, 0)}; };
        parts.rod.push_back(riser.at(foot));
        for (int i = 1; i <= pieces; ++i) {
            parts.rod.push_back(Frame::on(builder.add_node(at(i))));
            const auto section = [&](double) {
                return solver::circle({guide.rod_material.along, guide.rod_material.shear},
                                      guide.rod_diameter);
            };
            parts.rod_beams.push_back(
                builder.add<solver::Beam>(parts.rod[static_cast<std::size_t>(i - 1)], parts.rod.back(),
                                          solver::beam_data(at(i - 1), at(i), section)));
        }
        carrier = parts.rod.back().then(at(pieces).inverse() * middle);
    }
    if (guide.kind != GuideKind::rollers) {
        parts.slide = builder.add_scalar();
        carrier = carrier.then({solver::JointKind::slide, Vec3::UnitX(), *parts.slide, {}});
    }
    for (std::size_t eye = 0; eye < 2; ++eye)
        parts.eyes[eye] = carrier.then(Pose{{}, Vec3(0, (eye == 0 ? 0.5 : -0.5) * guide.spacing, 0)});
    return parts;
}

Contact track_contact(const Rigging& rig, End end, TrackKind kind) {
    const AxleParts& axle = rig.axles[index(end)];
    const Cam& cam = cam_of(rig.bow, end);
    const bool takes_up = kind == TrackKind::take_up;
    const Track& track = kind == TrackKind::string ? cam.string : takes_up ? *cam.take_up : *cam.let_out;
    // String and let-out leave on the archer's side, the take-up on the target's; all toward the grip.
    const double expected = takes_up ? 0 : sign(end) * std::numbers::pi;
    return {axle.cam.then(Pose{{}, Vec3(0, 0, -track.lateral)}),
            solver::Sheave{groove_of(track), takes_up ? -sign(end) : sign(end), expected, expected,
                           track.anchor}};
}

Contact idler_contact(const Rigging& rig) {
    const Track& track = rig.bow.cam_top.string;
    // Over the top, from the archer's side (where the nocking point is) to the target's.
    return {rig.axles[0].cam.then(Pose{{}, Vec3(0, 0, -track.lateral)}),
            solver::Sheave{groove_of(track), -1, 0, std::numbers::pi, 0}};
}

CablePart add_cable(const Rigging& rig, const std::string& name, CableKind kind, int eye, const Contact& from,
                    const Contact& to) {
    std::vector<Contact> contacts{from};
    if (const auto& frame = rig.guide.eyes[static_cast<std::size_t>(eye)]) contacts.push_back({*frame, {}});
    contacts.push_back(to);
    return {
        name, kind,
        rig.builder.add<solver::Cable>(contacts, solver::Cable::Data{rig.bow.cables.cable_stiffness, 1, {}})};
}

std::array<CablePart, 3> add_yoked_cable(const Rigging& rig, const std::string& name, int eye,
                                         std::size_t order, const Contact& from, End yoke) {
    const AxleParts& axle = rig.axles[index(yoke)];
    const auto slot = static_cast<std::size_t>(eye);
    // Half-way between the ends, where the spacers do not matter.
    const Vec3 left_end = rig.builder.at_rest(axle.ends[0]).position;
    const Vec3 middle = 0.5 * (left_end + rig.builder.at_rest(axle.ends[1]).position);
    const Vec3 toward = rig.guide.eyes[slot] ? rig.builder.at_rest(*rig.guide.eyes[slot]).position
                                             : rig.builder.at_rest(from.frame).position;
    // The yoke point starts a little farther out than its legs reach, so that they are taut.
    const double half = std::abs(left_end.y() - middle.y());
    const double leg = rig.bow.cables.yoke_leg;
    const double reach = 1.001 * std::sqrt(std::max(0.25 * leg * leg, leg * leg - half * half));
    const Vec3 start = middle + reach * (toward - middle).cwiseProduct(Vec3(1, 0, 1)).normalized();
    const Frame point = Frame::on(rig.builder.add_point(start));
    const auto add_leg = [&](std::size_t flank) {
        const double turns = (flank == 0 ? rig.layout.twist_yoke_left : rig.layout.twist_yoke_right)[order];
        return rig.builder.add<solver::Cable>(
            std::vector<Contact>{{point, {}}, {axle.ends[flank], {}}},
            solver::Cable::Data{
                rig.bow.cables.cable_stiffness, leg - turns * rig.bow.cables.shortening_per_turn, {}});
    };
    return {add_cable(rig, name, CableKind::cable, eye, from, {point, {}}),
            CablePart{name + ", left yoke leg", CableKind::yoke_leg, add_leg(0)},
            CablePart{name + ", right yoke leg", CableKind::yoke_leg, add_leg(1)}};
}

}  // namespace limbwright::models
