#include "postproc/scene/cam_pieces.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

namespace limbwright::postproc {
namespace {

using models::AssembledBow;
using models::CableKind;
using models::CablePart;
using models::End;
using solver::Contact;
using solver::Groove;
using solver::Pose;
using solver::State;

constexpr double full_turn = 2 * std::numbers::pi;

/// Points round a groove in its frame's u-v plane, an open one from end to end.
std::vector<Vec3> outline(const Groove& groove, const Pose& plane) {
    constexpr double stride = 3 * std::numbers::pi / 180;
    const bool is_closed = std::isinf(groove.begin());
    const double end = is_closed ? full_turn : groove.end();
    const double begin = is_closed ? 0 : std::max(groove.begin(), end - full_turn);
    const int steps = std::max(3, static_cast<int>(std::ceil((end - begin) / stride)));
    std::vector<Vec3> points;
    for (int k = 0; k < (is_closed ? steps : steps + 1); ++k) {
        const solver::Vec2 P = groove.point(begin + (end - begin) * k / steps);
        points.push_back(plane * Vec3(P.x(), P.y(), 0));
    }
    return points;
}

/// Which track a cable's contact is. The take-up is left on the other side than string track and let-out.
std::string track_name(const AssembledBow& bow, const CablePart& part, std::size_t contact) {
    const std::vector<Contact>& contacts = bow.cable(part).contacts();
    if (contact != 0 && contact + 1 != contacts.size()) return "idler string track";
    const bool is_top = contacts[contact].frame.node == bow.axles[0].middle;
    const End end = is_top ? End::top : End::bottom;
    const std::string cam = is_top ? "cam top " : "cam bottom ";
    if (contacts[contact].sheave->sense * sign(end) < 0) return cam + "take-up track";
    // Of a single cam's string the end that comes from the idler lies in the let-out.
    const bool is_from_idler = contacts.size() > 2;
    return cam + (part.kind == CableKind::string && !is_from_idler ? "string track" : "let-out track");
}

/// A round disc about an axis, its near face at `from` along it.
Piece round_disc(const std::string& name, const Pose& axle, double from, double length, double diameter) {
    constexpr int sides = 32;
    std::vector<Vec3> points;
    for (int k = 0; k < sides; ++k) {
        const double angle = full_turn * k / sides;
        points.push_back(axle * Vec3(from + 0.5 * length, 0.5 * diameter * std::cos(angle),
                                     0.5 * diameter * std::sin(angle)));
    }
    return disc(name, points, axle.rotation * Vec3(length, 0, 0));
}

}  // namespace

std::vector<Piece> track_pieces(const AssembledBow& bow, const State& state) {
    std::vector<Piece> pieces;
    std::set<std::string> shown;
    for (const CablePart& part : bow.all_cables()) {
        const std::vector<Contact>& contacts = bow.cable(part).contacts();
        for (std::size_t i = 0; i < contacts.size(); ++i) {
            if (!contacts[i].sheave) continue;
            const std::string name = track_name(bow, part, i);
            if (!shown.insert(name).second) continue;
            const Pose plane = pose(contacts[i].frame, state);
            const double thickness =
                1.5 * bow.bow.cables.diameter;  // the groove's flanges stand over the cable
            pieces.push_back(disc(name, outline(*contacts[i].sheave->groove, plane),
                                  plane.rotation * Vec3(0, 0, thickness)));
        }
    }
    std::ranges::stable_sort(pieces, {}, [](const Piece& piece) { return piece.name; });
    return pieces;
}

std::vector<Piece> hub_pieces(const AssembledBow& bow, const State& state) {
    std::vector<Piece> pieces;
    for (const End end : {End::top, End::bottom}) {
        const bool top = end == End::top;
        const std::string where = top ? "top" : "bottom";
        const double hub = (top ? bow.bow.cam_top : bow.bow.cam_bottom).hub;
        const double diameter = (top ? bow.bow.axle_top : bow.bow.axle_bottom).diameter;
        const Pose axle = state.at(bow.axle(end).middle);  // axis 1 to the left
        const std::string cam = bow.axle(end).turn ? "cam " + where : "idler";
        if (hub > 0) pieces.push_back(round_disc(cam + " hub", axle, -0.5 * hub, hub, 3 * diameter));
        const models::SpacerStacks& stacks = top ? bow.layout.spacers_top : bow.layout.spacers_bottom;
        const auto add_stack = [&](const std::vector<double>& stack, const std::string& flank,
                                   double outward) {
            double from = outward * 0.5 * hub;
            for (std::size_t i = 0; i < stack.size(); ++i) {
                if (!(stack[i] > 0)) continue;
                pieces.push_back(round_disc(fmt::format("spacer {} {} {}", where, flank, i + 1), axle, from,
                                            outward * stack[i], 2 * diameter));
                from += outward * stack[i];
            }
        };
        add_stack(stacks.left, "left", 1);
        add_stack(stacks.right, "right", -1);
    }
    return pieces;
}

}  // namespace limbwright::postproc
