#include "models/states/stringing.hpp"

#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "models/input/units.hpp"

namespace limbwright::models {
namespace {

using solver::Cable;
using solver::Equilibrium;
using solver::NotConverged;
using solver::Pose;
using solver::Spring;
using solver::State;
using solver::VecX;

/// The state turned as a whole so that the line from nocking point to pivot lies on the X axis.
State turned_into_line(const AssembledBow& bow, State state) {
    const Vec3 nock = nocking_point(bow, state);
    const double pitch = std::atan2(-nock.z(), -nock.x());
    const double level = std::hypot(nock.x(), nock.z());
    const double yaw = std::atan2(nock.y(), level);
    State turned = state;
    turned.at(bow.riser.yaw) = yaw;
    turned.at(bow.riser.pitch) = pitch;
    const Pose turn = pose(bow.riser.grip, turned) * pose(bow.riser.grip, state).inverse();
    for (Pose& X : turned.nodes) X = turn * X;
    for (Vec3& p : turned.points) p = turn * p;
    turned.at(bow.nock[0]) = -nock.norm();
    turned.at(bow.nock[1]) = turned.at(bow.nock[2]) = 0;
    return turned;
}

/// The bow with a share only of what is put on it once it is strung: the hand's torques, which the slack
/// string of a bow half strung cannot hold, and the twists of yoke legs, of which one may be slack.
AssembledBow eased(AssembledBow bow, double share) {
    for (const std::size_t element : bow.hand_torques) {
        const auto& torque = static_cast<const Spring&>(*bow.system.elements()[element]);
        Spring::Data data = torque.data();
        data.load *= share;
        bow.system.replace(element, std::make_shared<const Spring>(torque.weights(), data));
    }
    for (const CablePart& part : bow.cables) {
        if (part.kind != CableKind::yoke_leg) continue;
        Cable::Data data = bow.cable(part).data();
        data.natural_length += (1 - share) * (bow.bow.cables.yoke_leg - data.natural_length);
        bow.system.replace(part.element, std::make_shared<const Cable>(bow.cable(part).with(data)));
    }
    return bow;
}

class Stringer {
public:
    explicit Stringer(const AssembledBow& bow)
        : whole_(bow),
          bow_(eased(bow, 0)),
          parts_(cut_parts(bow)),
          held_(held_at_brace(bow)),
          workspace_(bow.system) {}

    Stringing from_measurements() {
        const double target = bow_.bow.brace.axle_to_axle;
        const StringingGoal goal{[&](const DeadStrung& s) { return axle_to_axle(bow_, s.state) - target; },
                                 "axle-to-axle is larger than the limbs reach unstrung: check [brace] "
                                 "axle_to_axle, the pockets' position and angle, and the limbs' length"};
        if (auto why = start(goal)) return NotStrung{*why};
        if (auto why = lead(lengths_)) return NotStrung{*why};
        double before = HUGE_VAL;
        for (int round = 0; round < 30; ++round) {
            const VecX open = unmet_at_brace(bow_, brace_.state);
            const double worst = open.lpNorm<Eigen::Infinity>();
            // On to the rounding floor: what is left here shows where two mirrored bows are compared.
            if (worst < 1e-10 || (worst < 1e-7 && worst > 0.25 * before)) return strung();
            before = worst;
            VecX change =
                brace_by_lengths(bow_, with_lengths(bow_, lengths_), brace_.state, workspace_.factor)
                    .meeting(open);
            const double largest = change.lpNorm<Eigen::Infinity>();
            if (largest > 10) change *= 10 / largest;
            while (auto why = settle(lengths_ + change)) {
                change *= 0.5;
                if (change.lpNorm<Eigen::Infinity>() < 0.05) return NotStrung{unfitting(*why)};
            }
            const double turned = bow_.axles[1].turn
                                      ? cam_turn(bow_, End::bottom, brace_.state) - bow_.bow.brace.mark_bottom
                                      : 0;
            if (std::abs(turned) > 0.7) return NotStrung{unfitting("the cams turn far from their marks")};
        }
        return NotStrung{unfitting("the correction does not end")};
    }

    Stringing from_lengths(const NaturalLengths& wanted) {
        const VecX goal = twisted(bow_, wanted);
        const auto longer = [&](const DeadStrung& s) {
            double length = 0;
            for (const CablePart& part : bow_.string)
                length += bow_.cable(part).length(s.state) /
                          (1 + s.string_tension / bow_.cable(part).data().stiffness);
            return length - goal[0] - goal[1];
        };
        const StringingGoal string_goal{longer,
                                        "the string is longer than the unstrung limbs reach apart: check its "
                                        "two natural lengths, and the layout's twists"};
        if (auto why = start(string_goal)) return NotStrung{*why};
        if (auto why = lead(goal)) return NotStrung{*why};
        return strung();
    }

private:
    using Trouble = std::optional<std::string>;

    /// What was measured at brace does not go together: how far the lengths could be corrected.
    std::string unfitting(const std::string& why) const {
        const Vec3 nock = nocking_point(bow_, brace_.state);
        std::string sentence = fmt::format(
            "what was measured at brace does not go together ({}). The bow came to axle-to-axle {:.1f} mm, "
            "brace height {:.1f} mm, nocking point {:.1f} mm high",
            why, axle_to_axle(bow_, brace_.state), -nock.x(), nock.z());
        if (bow_.axles[1].turn)
            sentence += fmt::format(
                ", bottom cam {:.1f} deg from its mark",
                (cam_turn(bow_, End::bottom, brace_.state) - bow_.bow.brace.mark_bottom) / units::degree);
        return sentence +
               ". Leave [brace] brace_height out to see the height that follows from the rest, then check "
               "the pockets' position and angle";
    }

    /// Steps 1 and 2: dead tensions, frozen and let go.
    Trouble start(const StringingGoal& goal) {
        DeadStringing dead = dead_stringing(bow_, goal);
        if (auto* why = std::get_if<std::string>(&dead)) return "raising the tensions: " + *why;
        const DeadStrung& strung = std::get<DeadStrung>(dead);
        lengths_.resize(static_cast<int>(parts_.size()));
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            const double tension = i < 2 ? strung.string_tension : strung.cable_tensions[i - 2];
            const Cable& cable = bow_.cable(parts_[i]);
            lengths_[static_cast<int>(i)] =
                cable.length(strung.state) / (1 + tension / cable.data().stiffness);
        }
        brace_.state = turned_into_line(bow_, strung.state);
        if (auto why = settle(lengths_)) return "letting go of the strung bow: " + *why;
        return {};
    }

    /// Leads string and cables to their lengths and puts the rest on meanwhile, in steps that adapt.
    Trouble lead(const VecX& goal) {
        const VecX begin = lengths_;
        for (double done = 0, step = 1; done < 1;) {
            const double next = done + step >= 1 - 1e-12 ? 1 : done + step;
            bow_ = eased(whole_, next);
            if (auto why = settle(next == 1 ? goal : VecX(begin + next * (goal - begin)))) {
                step *= 0.5;
                if (step < 1e-4)
                    return fmt::format(
                        "leading the strung bow to its lengths, yoke twists and hand torque: {} after {:.1f} "
                        "% of the way",
                        *why, 100 * done);
            } else {
                done = next;
                step *= 2;
            }
        }
        return {};
    }

    Trouble settle(const VecX& lengths) {
        solver::FoundEquilibrium answer =
            solver::find_equilibrium(with_lengths(bow_, lengths), brace_.state, held_, workspace_);
        if (auto* lost = std::get_if<NotConverged>(&answer))
            return fmt::format("{}, at the {}", lost->reason, bow_.part_of_freedom(lost->worst_freedom));
        brace_ = std::get<Equilibrium>(std::move(answer));
        lengths_ = lengths;
        return {};
    }

    Stringing strung() {
        AssembledBow bow = whole_;
        bow.system = with_lengths(whole_, lengths_);
        for (const CablePart& part : bow.all_cables()) {
            // A yoke may hang on one leg.
            if (part.kind != CableKind::yoke_leg && !(bow.cable(part).tension(brace_.state) > 0))
                return NotStrung{"the " + part.name + " is slack at brace: check its length"};
            if (bow.cable(part).path(brace_.state).off_groove)
                return NotStrung{"the " + part.name +
                                 " leaves its groove past the end at brace: check the track's anchor"};
        }
        place_stops(bow, brace_.state);
        return StrungBow{std::move(bow), brace_, untwisted(whole_, lengths_)};
    }

    const AssembledBow& whole_;
    AssembledBow bow_;  ///< eased, as far as stringing has come
    std::vector<CablePart> parts_;
    std::vector<int> held_;
    solver::Workspace workspace_;
    Equilibrium brace_;
    VecX lengths_;
};

}  // namespace

std::vector<int> held_at_brace(const AssembledBow& bow) {
    const solver::Numbering& n = bow.system.numbering();
    return {n.first(bow.riser.roll), n.first(bow.nock[1]), n.first(bow.nock[2])};
}

std::vector<int> held_while_drawing(const AssembledBow& bow) {
    std::vector<int> held = held_at_brace(bow);
    held.push_back(bow.system.numbering().first(bow.nock[0]));
    return held;
}

Stringing string_up(const AssembledBow& bow) {
    const Cables& cables = bow.bow.cables;
    if (!cables.string_above) return Stringer(bow).from_measurements();
    return string_up(bow, {*cables.string_above, *cables.string_below, cables.cables});
}

Stringing string_up(const AssembledBow& bow, const NaturalLengths& lengths) {
    return Stringer(bow).from_lengths(lengths);
}

}  // namespace limbwright::models
