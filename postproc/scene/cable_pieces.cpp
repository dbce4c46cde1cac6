#include "postproc/scene/cable_pieces.hpp"

#include <cmath>

namespace limbwright::postproc {

using models::AssembledBow;
using models::CablePart;
using models::GuideKind;
using solver::Pose;
using solver::State;

std::vector<Piece> cable_pieces(const AssembledBow& bow, const State& state) {
    std::vector<Piece> pieces;
    for (const CablePart& part : bow.all_cables()) {
        const solver::Cable& cable = bow.cable(part);
        const std::vector<Vec3> line = cable.path(state).line;
        const Field tension{"tension", "N", 1, std::vector<double>(line.size(), cable.tension(state))};
        pieces.push_back(polyline(part.name, line, {tension}));
    }
    return pieces;
}

std::vector<Piece> arrow_pieces(const AssembledBow& bow, const State& state) {
    const Pose grip = bow_frame(bow, state);
    const Vec3 nock = pose(bow.nock_frame, state).position;
    const Vec3 rest = pose(bow.riser.at({{}, bow.bow.shooter.rest}), state).position;
    const double size = 2 * bow.bow.cables.diameter;
    const Vec3 half = grip.rotation * Vec3(0, 0, size);
    return {tube("nocking point", {nock - half, nock + half}, size), polyline("arrow", {nock, rest})};
}

std::vector<Piece> guide_pieces(const AssembledBow& bow, const State& state) {
    const models::Guide& guide = bow.bow.guide;
    if (guide.kind == GuideKind::none) return {};
    const Pose left = pose(*bow.guide.eyes[0], state), right = pose(*bow.guide.eyes[1], state);
    const Vec3 middle = 0.5 * (left.position + right.position);
    const solver::Mat3 axes = left.rotation.matrix();  // 1 toward the target, 2 to the left
    const double cable = bow.bow.cables.diameter;
    const double reach = 0.5 * std::abs(guide.spacing) + 2 * cable;
    solver::Mat3 sideways;
    sideways << axes.col(1), axes.col(2), axes.col(0);
    std::vector<Piece> pieces{swept(guide.kind == GuideKind::rollers ? "guide rollers" : "guide slide",
                                    {{middle - reach * axes.col(1), sideways, 3 * cable, 4 * cable},
                                     {middle + reach * axes.col(1), sideways, 3 * cable, 4 * cable}},
                                    SectionShape::rectangle)};
    if (guide.kind == GuideKind::rod) {
        const double diameter = guide.rod_diameter > 0 ? guide.rod_diameter : 3 * cable;
        const Vec3 foot = middle + (guide.rod_length - state.at(*bow.guide.slide)) * Vec3(axes.col(0));
        pieces.push_back(tube("guide rod", {foot, middle}, diameter));
    }
    return pieces;
}

}  // namespace limbwright::postproc
