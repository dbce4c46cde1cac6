#include "solver/system/masses.hpp"

#include <cmath>
#include <numbers>

namespace limbwright::solver {

double total_mass(std::span<const Body> bodies) {
    double mass = 0;
    for (const Body& body : bodies) mass += body.mass;
    return mass;
}

std::vector<Touch> touches_of(const Body& body) {
    TouchList list;
    list.add(body.frame);
    return list.touches();
}

ElementMatrix mass_matrix(const Body& body, const State& state) {
    TouchList list;
    const std::vector<int> places = list.add(body.frame);
    const FrameMotion motion(body.frame, state);
    Mat6 own = Mat6::Zero();
    own.topLeftCorner<3, 3>() = body.mass * Mat3::Identity();
    own.bottomRightCorner<3, 3>() = body.inertia;
    const MatX by_frame = motion.first().transpose() * own * motion.first();
    ElementMatrix M = ElementMatrix::Zero(list.size(), list.size());
    for (std::size_t r = 0; r < places.size(); ++r)
        for (std::size_t c = 0; c < places.size(); ++c)
            M(places[r], places[c]) += by_frame(static_cast<int>(r), static_cast<int>(c));
    return M;
}

Vec6 motion_of(const Body& body, const State& state, const VecX& step, const Numbering& n) {
    const Frame& frame = body.frame;
    VecX own(frame.freedom_count());
    int at = 0;
    if (frame.node.value >= 0)
        for (; at < 6; ++at) own[at] = step[n.first(frame.node) + at];
    else if (frame.point.value >= 0)
        for (; at < 3; ++at) own[at] = step[n.first(frame.point) + at];
    for (int i = 0; i < frame.joint_count; ++i)
        own[at++] = step[n.first(frame.joints[static_cast<std::size_t>(i)].scalar)];
    return FrameMotion(frame, state).first() * own;
}

SectionMass rectangle_mass(double density, double width, double thickness) {
    const double mass = density * width * thickness;
    const double flat = mass * thickness * thickness / 12, edge = mass * width * width / 12;
    return {mass, {flat + edge, flat, edge}};
}

SectionMass circle_mass(double density, double diameter) {
    const double mass = density * std::numbers::pi / 4 * diameter * diameter;
    const double across = mass * diameter * diameter / 16;
    return {mass, {2 * across, across, across}};
}

std::array<Body, 2> segment_masses(const Frame& end1, const Frame& end2, double length,
                                   const std::function<SectionMass(double)>& section) {
    std::array<Body, 2> bodies{Body{.frame = end1}, Body{.frame = end2}};
    const double away = 0.5 * std::sqrt(0.6);
    const double shares[] = {0.5 - away, 0.5, 0.5 + away}, weights[] = {5. / 18, 8. / 18, 5. / 18};
    for (int i = 0; i < 3; ++i) {
        const SectionMass s = section(shares[i]);
        for (std::size_t end = 0; end < 2; ++end) {
            const double part = length * weights[i] * (end == 0 ? 1 - shares[i] : shares[i]);
            bodies[end].mass += part * s.mass;
            bodies[end].inertia.diagonal() += part * s.inertia;
        }
    }
    return bodies;
}

std::vector<Body> shell_masses(const Shell& shell, double density, double thickness, const State& rest) {
    const Vec3 normal = shell.wall_state(rest).axes.col(2);
    const double mass = density * thickness * shell.area() / static_cast<double>(shell.corners().size());
    std::vector<Body> bodies;
    for (const Frame& corner : shell.corners()) {
        const Vec3 own = pose(corner, rest).rotation.inverse() * normal;
        bodies.push_back(
            {corner, mass,
             mass * thickness * thickness / 12 * (Mat3::Identity() - 0.999 * own * own.transpose())});
    }
    return bodies;
}

}  // namespace limbwright::solver
