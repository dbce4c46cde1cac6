#include "models/states/internal_forces.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/system/assembly.hpp"

namespace limbwright::models {
namespace {

using solver::Beam;
using solver::Cable;
using solver::Frame;
using solver::Pose;
using solver::State;

const Beam& beam_of(const AssembledBow& bow, std::size_t element) {
    return static_cast<const Beam&>(*bow.system.elements()[element]);
}

/// Whether a frame hangs on a given node.
bool sits_on(const Frame& frame, solver::NodeId node) {
    return frame.node == node;
}

/// Smallest distance between two segments, by the closed form for lines with clamped ends.
double segment_distance(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const Vec3 u = b - a, v = d - c, w = a - c;
    const double uu = u.dot(u), uv = u.dot(v), vv = v.dot(v), uw = u.dot(w), vw = v.dot(w);
    const double det = uu * vv - uv * uv;
    double s = det > 1e-12 * uu * vv ? std::clamp((uv * vw - vv * uw) / det, 0., 1.) : 0;
    const double t = vv > 0 ? std::clamp((uv * s + vw) / vv, 0., 1.) : 0;
    s = uu > 0 ? std::clamp((uv * t - uw) / uu, 0., 1.) : 0;
    return (w + s * u - t * v).norm();
}

}  // namespace

CamLoad cam_load(const AssembledBow& bow, End end, const State& state) {
    const AxleParts& axle = bow.axle(end);
    const Pose hub = pose(axle.cam, state);
    CamLoad load;
    for (const CablePart& part : bow.all_cables()) {
        const Cable& cable = bow.cable(part);
        const std::vector<Cable::Pull> pulls = cable.pulls(state);
        for (std::size_t i = 0; i < pulls.size(); ++i) {
            const solver::Contact& contact = cable.contacts()[i];
            if (!contact.sheave || !sits_on(contact.frame, axle.middle)) continue;
            const Vec3 arm = pose(contact.frame, state).position - hub.position;
            load.force += pulls[i].force;
            load.moment += pulls[i].moment + arm.cross(pulls[i].force);
        }
    }
    const solver::Rotation back = bow_frame(bow, state).rotation.inverse();
    return {back * load.force, back * load.moment};
}

double tip_side_force(const AssembledBow& bow, End end, Flank flank, const State& state) {
    const LimbParts& limbs = bow.limbs[index(end)];
    const AxleParts& axle = bow.axle(end);
    const solver::NodeId tip = flank == Flank::left ? axle.left : axle.right;
    // What the limb's energy would gain by a move of the axle is what the limb pulls against it.
    Vec3 against = Vec3::Zero();
    solver::ElementVector g;
    for (const LimbRow& row : limbs.rows)
        for (const std::size_t element : row.elements()) {
            int place = 0;
            for (const solver::Touch& touch : bow.system.elements()[element]->touches()) {
                if (touch.node == tip) {
                    bow.system.elements()[element]->gradient(state, g);
                    against += g.segment<3>(place);
                }
                place += touch.width();
            }
        }
    const Vec3 left = state.at(axle.middle).rotation * Vec3(Vec3::UnitX());
    return -against.dot(left);
}

namespace {

double largest_beam_strain(const AssembledBow& bow, const LimbRow& row, const State& state) {
    double largest = 0;
    for (std::size_t i = 0; i < row.beams.size(); ++i) {
        const auto ends = beam_of(bow, row.beams[i]).section_forces(state);
        for (std::size_t k = 0; k < 2; ++k) {
            const meshes::StripStation& s = row.stations[i + k];
            solver::Vec6 forces;
            forces << ends[k].force, ends[k].moment;
            const solver::Vec6 strain = row.stiffness.section(s.width, s.thickness).ldlt().solve(forces);
            largest = std::max(largest, std::abs(strain[0]) + 0.5 * s.thickness * std::abs(strain[4]) +
                                            0.5 * s.width * std::abs(strain[5]));
        }
    }
    return largest;
}

}  // namespace

double largest_strain(const AssembledBow& bow, const LimbRow& row, const State& state) {
    double largest = largest_beam_strain(bow, row, state);
    for (const PartShell& part : row.shells) {
        const solver::WallState wall =
            static_cast<const solver::Shell&>(*bow.system.elements()[part.element]).wall_state(state);
        largest =
            std::max(largest, std::abs(wall.strain[0]) + 0.5 * part.thickness * std::abs(wall.curvature[0]));
    }
    return largest;
}

double axle_stress(const AssembledBow& bow, End end, const State& state) {
    const double d = axle_of(bow.bow, end).diameter;
    double moment = 0;
    for (const std::size_t element : bow.axle(end).beams)
        for (const solver::SectionForces& s : beam_of(bow, element).section_forces(state))
            moment = std::max(moment, std::hypot(s.moment[1], s.moment[2]));
    return 32 * moment / (std::numbers::pi * d * d * d);
}

Vec3 guide_force(const AssembledBow& bow, const State& state) {
    Vec3 force = Vec3::Zero();
    for (const CablePart& part : bow.all_cables()) {
        const Cable& cable = bow.cable(part);
        const std::vector<Cable::Pull> pulls = cable.pulls(state);
        // A contact in the middle of a cable that is no sheave is the guide's eye.
        for (std::size_t i = 1; i + 1 < pulls.size(); ++i)
            if (!cable.contacts()[i].sheave) force += pulls[i].force;
    }
    return bow_frame(bow, state).rotation.inverse() * force;
}

double arrow_clearance(const AssembledBow& bow, const State& state) {
    const Vec3 nock = pose(bow.nock_frame, state).position;
    const Vec3 rest = bow_frame(bow, state) * bow.bow.shooter.rest;
    const Vec3 end = rest + (rest - nock);
    double least = HUGE_VAL;
    for (const CablePart& part : bow.cables) {
        const std::vector<Vec3> line = bow.cable(part).path(state).line;
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
            least = std::min(least, segment_distance(line[i], line[i + 1], nock, end));
    }
    return least - bow.bow.shooter.vane_radius - 0.5 * bow.bow.cables.diameter;
}

double roll_reaction(const AssembledBow& bow, const State& state) {
    return total_gradient(bow.system, state)[bow.system.numbering().first(bow.riser.roll)];
}

}  // namespace limbwright::models
