#pragma once

#include <functional>

#include "solver/elements/beam.hpp"
#include "solver/elements/spring.hpp"
#include "tests/support/found.hpp"

/// Chains of beams along a rest curve, clamped at its start.
namespace limbwright::testing {

using namespace limbwright::solver;

/// Rest pose and section at a share 0 … 1 of the whole length.
using RestCurve = std::function<Pose(double)>;
using SectionAlong = std::function<SectionStiffness(double)>;

/// From the origin along +x, bent about z by a constant curvature, positive toward +y.
inline RestCurve arc_about_z(double length, double curvature) {
    return [=](double share) {
        Vec6 strain;
        strain << length, 0, 0, 0, 0, length * curvature;
        return exp_pose(share * strain);
    };
}
inline RestCurve straight(double length) {
    return arc_about_z(length, 0);
}

/// A section that bends about z (axis 3), against stretch and shear as stiff as given, all but rigid out of
/// the plane.
inline SectionStiffness plane_section(double bending, double stretch_and_shear) {
    const double out_of_plane = 1e3 * bending;
    return diagonal_section(stretch_and_shear, stretch_and_shear, stretch_and_shear, out_of_plane,
                            out_of_plane, bending);
}

/// The beam of a curve between two shares, its ends fixed to frames that stand on the curve at rest.
inline std::shared_ptr<const Element> beam_along(const RestCurve& curve, const SectionAlong& section,
                                                 double from, double to, const Frame& end1,
                                                 const Frame& end2) {
    return std::make_shared<Beam>(end1, end2, beam_data(curve(from), curve(to), [&](double u) {
                                      return section(from + u * (to - from));
                                  }));
}

struct Cantilever {
    State rest;
    System::Elements elements;
    NodeId tip;
};

inline Cantilever make_cantilever(int beams, const RestCurve& curve, const SectionAlong& section) {
    Cantilever c;
    Frame end = Frame::on_ground(curve(0));
    for (int i = 0; i < beams; ++i) {
        const double from = static_cast<double>(i) / beams, to = (i + 1.) / beams;
        c.rest.nodes.push_back(curve(to));
        c.tip = NodeId(i);
        c.elements.push_back(beam_along(curve, section, from, to, end, Frame::on(c.tip)));
        end = Frame::on(c.tip);
    }
    return c;
}

inline Numbering numbering_of_nodes(const State& state) {
    return {.nodes = static_cast<int>(state.nodes.size()), .scalars = static_cast<int>(state.scalars.size())};
}

/// The states under dead tip forces, each found from the one before; the first from rest.
inline std::vector<Equilibrium> under_tip_forces(const Cantilever& c, const std::vector<Vec3>& forces) {
    System::Elements elements = c.elements;
    const std::size_t load = elements.size();
    const auto pulled_by = [&](const Vec3& force) {
        return std::make_shared<DeadForce>(Frame::on(c.tip), force);
    };
    elements.push_back(pulled_by(Vec3::Zero()));
    const System unloaded(numbering_of_nodes(c.rest), std::move(elements));
    Workspace workspace(unloaded);
    std::vector<Equilibrium> states;
    for (const Vec3& force : forces)
        states.push_back(
            found(find_equilibrium(unloaded.with(load, pulled_by(force)),
                                   states.empty() ? c.rest : states.back().state, {}, workspace)));
    return states;
}

/// The state under one force, raised from rest in equal steps.
inline State under_tip_force(const Cantilever& c, const Vec3& force, int steps) {
    std::vector<Vec3> forces;
    for (int i = 1; i <= steps; ++i) forces.push_back(force * i / steps);
    return under_tip_forces(c, forces).back().state;
}

/// Turn of a node about z from its rest along +x, in (−π, π) [rad].
inline double turn_about_z(const Pose& X) {
    return 2 * std::atan2(X.rotation.v.z(), X.rotation.w);
}

}  // namespace limbwright::testing
