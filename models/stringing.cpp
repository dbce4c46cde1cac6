#include "models/stringing.hpp"

#include <fmt/format.h>

#include <Eigen/LU>
#include <cmath>
#include <functional>

#include "models/dead_stringing.hpp"
#include "models/units.hpp"

namespace limbwright::models {
namespace {

using solver::Cable;
using solver::Equilibrium;
using solver::MatX;
using solver::NotConverged;
using solver::Pose;
using solver::State;
using solver::System;
using solver::VecX;

/// String halves and cables, whose lengths stringing decides, in one list.
std::vector<CablePart> cut_parts(const AssembledBow& bow) {
    std::vector<CablePart> parts(bow.string.begin(), bow.string.end());
    for (const CablePart& part : main_cables(bow)) parts.push_back(part);
    return parts;
}

/// By how much the layout's twists shorten each of `cut_parts` [mm].
VecX twisted_away(const AssembledBow& bow) {
    const double per_turn = bow.bow.cables.shortening_per_turn;
    const std::size_t n = cut_parts(bow).size();
    VecX shorter(n);
    for (std::size_t i = 0; i < n; ++i)
        shorter[static_cast<int>(i)] =
            per_turn * (i < 2 ? bow.layout.twist_string : bow.layout.twist_cables[i - 2]);
    return shorter;
}

System with_lengths(const AssembledBow& bow, const VecX& lengths) {
    System system = bow.system;
    const std::vector<CablePart> parts = cut_parts(bow);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Cable::Data data = bow.cable(parts[i]).data();
        data.dead_tension.reset();
        data.natural_length = lengths[static_cast<int>(i)];
        system = system.with(parts[i].element, std::make_shared<const Cable>(bow.cable(parts[i]).with(data)));
    }
    return system;
}

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

/// What must be met at brace: values that shall be zero [mm, rad].
VecX unmet(const AssembledBow& bow, const State& state) {
    const Brace& brace = bow.bow.brace;
    const Vec3 nock = nocking_point(bow, state);
    std::vector<double> values{axle_to_axle(bow, state) - brace.axle_to_axle,
                               nock.z() - brace.nocking_point_height};
    const bool two = bow.axles[0].turn.has_value();
    const double bottom = cam_turn(bow, End::bottom, state) - brace.mark_bottom;
    const double top = two ? cam_turn(bow, End::top, state) - brace.mark_top : 0;
    if (two) values.push_back(top - bottom);
    values.push_back(brace.brace_height ? -nock.x() - *brace.brace_height : bottom);
    return Eigen::Map<const VecX>(values.data(), static_cast<int>(values.size()));
}

class Stringer {
public:
    explicit Stringer(const AssembledBow& bow)
        : bow_(bow), parts_(cut_parts(bow)), held_(held_at_brace(bow)), workspace_(bow.system) {}

    Stringing from_measurements() {
        const double target = bow_.bow.brace.axle_to_axle;
        const StringingGoal goal{[&](const DeadStrung& s) { return axle_to_axle(bow_, s.state) - target; },
                                 "axle-to-axle is larger than the limbs reach unstrung: check [brace] "
                                 "axle_to_axle, the pockets' position and angle, and the limbs' length"};
        if (auto why = start(goal)) return NotStrung{*why};
        double before = HUGE_VAL;
        for (int round = 0; round < 30; ++round) {
            const VecX open = unmet(bow_, brace_.state);
            const double worst = open.lpNorm<Eigen::Infinity>();
            // On to the rounding floor: what is left here shows where two mirrored bows are compared.
            if (worst < 1e-10 || (worst < 1e-7 && worst > 0.25 * before)) return strung();
            before = worst;
            VecX change = -Eigen::FullPivLU<MatX>(slopes()).solve(open);
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
        VecX goal(parts_.size());
        goal[0] = wanted.string_above;
        goal[1] = wanted.string_below;
        for (std::size_t i = 2; i < parts_.size(); ++i) goal[static_cast<int>(i)] = wanted.cables[i - 2];
        goal -= twisted_away(bow_);
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
        const VecX begin = lengths_;
        double done = 0, step = 1;
        while (done < 1) {
            step = std::min(step, 1 - done);
            const double next = done + step >= 1 - 1e-12 ? 1 : done + step;
            const Equilibrium before = brace_;
            const VecX old = lengths_;
            if (auto why = settle(next == 1 ? goal : VecX(begin + next * (goal - begin)))) {
                brace_ = before;
                lengths_ = old;
                step *= 0.5;
                if (step < 1e-4)
                    return NotStrung{"leading string and cables to their given lengths: " + *why};
            } else {
                done = next;
                step *= 2;
            }
        }
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

    Trouble settle(const VecX& lengths) {
        solver::FoundEquilibrium answer =
            solver::find_equilibrium(with_lengths(bow_, lengths), brace_.state, held_, workspace_);
        if (auto* lost = std::get_if<NotConverged>(&answer))
            return fmt::format("{}, at the {}", lost->reason, bow_.part_of_freedom(lost->worst_freedom));
        brace_ = std::get<Equilibrium>(std::move(answer));
        lengths_ = lengths;
        return {};
    }

    /// d unmet / d lengths: each length's own load, −∂²U/∂q∂L₀ = EA ℓ/L₀² ∂ℓ/∂q, through the factor in hand.
    MatX slopes() const {
        const System system = with_lengths(bow_, lengths_);
        MatX slopes(unmet(bow_, brace_.state).size(), lengths_.size());
        constexpr double h = 1e-4;  // mm: second-order terms of order 1e-4 only slow the correction a little
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            const Cable& cable = AssembledBow::cable(system, parts_[i]);
            const solver::ElementVector g = cable.length_gradient(brace_.state);
            const double L0 = cable.data().natural_length;
            const double factor = cable.data().stiffness * cable.length(brace_.state) / (L0 * L0);
            VecX load = VecX::Zero(system.numbering().size());
            const std::vector<int>& places = system.plan().gather[parts_[i].element];
            for (std::size_t k = 0; k < places.size(); ++k) load[places[k]] = factor * g[static_cast<int>(k)];
            const VecX q = workspace_.factor.solve(load);
            slopes.col(static_cast<int>(i)) = (unmet(bow_, moved(brace_.state, VecX(h * q))) -
                                               unmet(bow_, moved(brace_.state, VecX(-h * q)))) /
                                              (2 * h);
        }
        return slopes;
    }

    Stringing strung() {
        AssembledBow bow = bow_;
        bow.system = with_lengths(bow_, lengths_);
        for (const CablePart& part : bow.all_cables()) {
            if (!(bow.cable(part).tension(brace_.state) > 0))
                return NotStrung{"the " + part.name + " is slack at brace: check its length"};
            if (bow.cable(part).path(brace_.state).off_groove)
                return NotStrung{"the " + part.name +
                                 " leaves its groove past the end at brace: check the track's anchor"};
        }
        for (const End end : {End::top, End::bottom}) {
            const AxleParts& axle = bow.axle(end);
            if (!axle.stop) continue;
            const Cam& cam = cam_of(bow.bow, end);
            const auto weights = turn_against_limbs(axle);
            const double meets_at =
                solver::Spring(weights, {}).value(brace_.state) + axle.draw_sense * *cam.stop;
            bow.system = bow.system.with(
                *axle.stop, std::make_shared<const solver::Spring>(weights, stop_data(axle, cam, meets_at)));
        }
        const VecX free = lengths_ + twisted_away(bow_);
        NaturalLengths lengths{free[0], free[1], {}};
        for (int i = 2; i < free.size(); ++i) lengths.cables.push_back(free[i]);
        return StrungBow{std::move(bow), brace_, std::move(lengths)};
    }

    const AssembledBow& bow_;
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
