#include "models/states/bow_modes.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace limbwright::models {
namespace {

using solver::Body;

/// Twice the kinetic energy of a body under a mode's unit rate, and that part of it which is sideways.
struct Energy {
    double whole = 0, sideways = 0;
};

Energy energy_of(const AssembledBow& bow, const Body& body, const solver::State& state,
                 const solver::VecX& shape) {
    const solver::Vec6 motion = solver::motion_of(body, state, shape, bow.system.numbering());
    const solver::Mat3 axes = pose(body.frame, state).rotation.matrix();
    const Vec3 along = motion.head<3>(), turn = axes * Vec3(motion.tail<3>());
    const solver::Mat3 inertia = axes * body.inertia * axes.transpose();
    const double whole = body.mass * along.squaredNorm() + turn.dot(inertia * turn);
    const double in_plane =
        body.mass * (along.x() * along.x() + along.z() * along.z()) + inertia(1, 1) * turn.y() * turn.y();
    return {whole, whole - in_plane};
}

}  // namespace

std::size_t BowMode::leading_part() const {
    return static_cast<std::size_t>(std::max_element(shares.begin(), shares.end()) - shares.begin());
}

std::variant<BowModes, std::string> bow_modes(const AssembledBow& bow, const solver::State& state,
                                              std::span<const int> held, int count) {
    const BowMasses masses = bow_masses(bow, state);
    const auto answer = solver::find_modes(bow.system, state, masses.bodies(), held, count);
    if (const auto* none = std::get_if<solver::NoModes>(&answer))
        return none->freedom < 0
                   ? none->reason
                   : fmt::format("{}, at the {}", none->reason, bow.part_of_freedom(none->freedom));
    const auto& found = std::get<solver::Modes>(answer);
    BowModes modes;
    for (const PartMass& part : masses.parts) {
        modes.parts.push_back(part.name);
        modes.masses.push_back(solver::total_mass(part.bodies));
    }
    modes.assumed = masses.assumed;
    modes.unstable = found.unstable;
    for (const solver::Mode& mode : found.lowest) {
        BowMode own{.motion = mode, .shares = {}};
        double whole = 0;
        for (const PartMass& part : masses.parts) {
            own.shares.push_back(0);
            for (const Body& body : part.bodies) {
                const Energy energy = energy_of(bow, body, state, mode.shape);
                own.shares.back() += energy.whole;
                own.sideways += energy.sideways;
            }
            whole += own.shares.back();
        }
        for (double& share : own.shares) share /= whole;
        own.sideways /= whole;
        modes.lowest.push_back(std::move(own));
    }
    return modes;
}

}  // namespace limbwright::models
