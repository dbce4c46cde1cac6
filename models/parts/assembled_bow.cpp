#include "models/parts/assembled_bow.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "models/bow/settings.hpp"
#include "models/parts/riser_surface.hpp"
#include "solver/elements/spring.hpp"

namespace limbwright::models {

using solver::Frame;
using solver::JointKind;
using solver::Pose;
using solver::State;

const solver::Cable& AssembledBow::cable(const solver::System& system, const CablePart& part) {
    return static_cast<const solver::Cable&>(*system.elements()[part.element]);
}

std::vector<CablePart> AssembledBow::all_cables() const {
    std::vector<CablePart> all(string.begin(), string.end());
    all.insert(all.end(), cables.begin(), cables.end());
    return all;
}

std::string AssembledBow::part_of_freedom(int freedom) const {
    const solver::Numbering& n = system.numbering();
    if (freedom < 0) return "no part";
    if (freedom >= 6 * n.nodes && freedom < 6 * n.nodes + 3 * n.points) return "yoke point";
    const auto is = [&](solver::ScalarId id) { return id.value >= 0 && n.first(id) == freedom; };
    const auto on = [&](const Frame& frame) {
        return frame.node.value >= 0 && freedom / 6 == frame.node.value && freedom < 6 * n.nodes;
    };
    const auto touches_freedom = [&](const std::vector<PartShell>& shells) {
        for (const PartShell& shell : shells)
            for (const solver::Touch& touch : system.elements()[shell.element]->touches())
                if (touch.node.value >= 0 && touch.node.value == freedom / 6 && freedom < 6 * n.nodes)
                    return true;
        return false;
    };
    if (is(riser.yaw) || is(riser.pitch) || is(riser.roll)) return "grip";
    for (const solver::ScalarId id : nock)
        if (is(id)) return "nocking point";
    if (guide.slide && is(*guide.slide)) return "cable guide's slide";
    for (std::size_t e = 0; e < 2; ++e) {
        const std::string end = e == 0 ? "top" : "bottom";
        const AxleParts& axle = axles[e];
        if (axle.turn && is(*axle.turn)) return end + " cam";
        if (is(axle.tip_turns[0])) return end + " left limb's tip";
        if (is(axle.tip_turns[1])) return end + " right limb's tip";
        if (on(Frame::on(axle.left)) || on(Frame::on(axle.middle)) || on(Frame::on(axle.right)))
            return end + " axle";
        for (const LimbRow& row : limbs[e].rows)
            for (std::size_t i = 0; i < row.sections.size(); ++i)
                if (on(row.sections[i]) && !row.sections[i].joint_count)
                    return fmt::format("{}, section {} of {}", row.name, i, row.sections.size() - 1);
        for (const LimbRow& row : limbs[e].rows)
            if (touches_freedom(row.shells)) return row.name;
    }
    for (std::size_t i = 0; i < guide.rod.size(); ++i)
        if (on(guide.rod[i])) return "cable guide's rod";
    for (const Frame& section : riser.sections)
        if (on(section)) return "riser";
    if (touches_freedom(riser.shells)) return "riser";
    return "limb pocket";
}

AssembledBow assemble(const Bow& bow, const Layout& layout) {
    if (layout.moved != bow.layout.moved) return assemble(with_layout(bow, layout), layout);
    Builder builder;
    RiserParts riser = add_riser(bow.riser, guide_height(bow), builder);
    std::array<AxleParts, 2> axles;
    std::array<LimbParts, 2> limbs;
    for (const End end : {End::top, End::bottom}) {
        const std::size_t e = index(end);
        axles[e] = add_axle(bow, layout, end, builder);
        limbs[e] =
            add_limbs(bow, layout, end, riser, {axles[e].left, axles[e].right}, axles[e].tip_turns, builder);
    }
    GuideParts guide = add_guide(bow, layout, riser, builder);

    std::array<solver::ScalarId, 3> nock;
    const double back = -bow.brace.brace_height.value_or(180);
    Frame nock_frame = Frame::on_ground();
    for (int i = 0; i < 3; ++i) {
        nock[static_cast<std::size_t>(i)] = builder.add_scalar();
        nock_frame =
            nock_frame.then({JointKind::slide, Vec3::Unit(i), nock[static_cast<std::size_t>(i)], {}});
    }

    const Rigging rig{bow, layout, axles, guide, nock_frame, builder};
    const std::array<CablePart, 2> string = add_string(rig);
    const std::vector<CablePart> cables = entry_of(bow.cables.system).add_cables(rig);
    const auto torque = [&](solver::ScalarId angle, double value) {
        return builder.add<solver::Spring>(std::vector{std::pair{angle, 1.}},
                                           solver::Spring::Data{.load = value});
    };
    const std::array<std::size_t, 2> hand{torque(riser.yaw, layout.hand_yaw_torque),
                                          torque(riser.pitch, layout.hand_pitch_torque)};
    State rest = builder.rest();
    rest.at(nock[0]) = back;
    rest.at(nock[2]) = bow.brace.nocking_point_height + layout.nocking_point;
    return {bow,
            layout,
            std::move(riser),
            std::move(axles),
            std::move(limbs),
            std::move(guide),
            nock,
            nock_frame,
            string,
            cables,
            hand,
            builder.system(),
            std::move(rest)};
}

const solver::Spring& stop_of(const AssembledBow& bow, const AxleParts& axle) {
    return static_cast<const solver::Spring&>(*bow.system.elements()[*axle.stop]);
}

Pose bow_frame(const AssembledBow& bow, const State& state) {
    return pose(bow.riser.grip, state);
}

double axle_roll(const AssembledBow& bow, End end, const State& state) {
    const Pose axle = bow_frame(bow, state).inverse() * state.at(bow.axle(end).middle);
    const Vec3 forward = axle.rotation * Vec3(Vec3::UnitZ());  // its axis 3, along X at rest
    return std::atan2(forward.z(), forward.x());
}

double cam_turn(const AssembledBow& bow, End end, const State& state) {
    const AxleParts& axle = bow.axle(end);
    const Vec3 u = (bow_frame(bow, state).inverse() * pose(axle.cam, state)).rotation * Vec3(Vec3::UnitX());
    const double angle = std::atan2(u.z(), u.x());
    // The scalars know the number of whole turns.
    const double about = state.at(*axle.turn) + axle_roll(bow, end, state), round = 2 * std::numbers::pi;
    return axle.draw_sense * (angle + round * std::round((about - angle) / round));
}

double axle_to_axle(const AssembledBow& bow, const State& state) {
    return (state.at(bow.axles[0].middle).position - state.at(bow.axles[1].middle).position).norm();
}

Vec3 nocking_point(const AssembledBow& bow, const State& state) {
    return bow_frame(bow, state).inverse() * pose(bow.nock_frame, state).position;
}

}  // namespace limbwright::models
