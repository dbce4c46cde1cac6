#include "models/states/torque_sensitivity.hpp"

#include <cmath>

#include "models/input/units.hpp"

namespace limbwright::models {

using solver::State;
using solver::VecX;

Vec3 arrow_line(const AssembledBow& bow, const State& state) {
    return (bow.bow.shooter.rest - nocking_point(bow, state)).normalized();
}

double arrow_yaw(const AssembledBow& bow, const State& state) {
    const Vec3 line = bow_frame(bow, state).rotation * arrow_line(bow, state);
    return std::atan2(line.y(), line.x());
}

double per_yaw_torque(const DrawState& state, const std::function<double(const State&)>& number) {
    const VecX& direction = state.yaw_torque_effect;
    if (direction.size() == 0) return std::nan("");
    // Central differences over moves of at most 1e-3 mm or rad: their error is of second order, below 1e-6,
    // and rounding below 1e-9.
    const double h = 1e-3 / direction.lpNorm<Eigen::Infinity>();
    const double per_newton_millimetre =
        (number(moved(state.state, VecX(h * direction))) - number(moved(state.state, VecX(-h * direction)))) /
        (2 * h);
    return 1e3 * per_newton_millimetre;
}

double arrow_yaw_forgiveness(const AssembledBow& bow, const DrawState& state) {
    return per_yaw_torque(state, [&](const State& x) { return arrow_yaw(bow, x); }) / units::degree;
}

double nock_travel_forgiveness(const AssembledBow& bow, const DrawState& state) {
    return per_yaw_torque(state, [&](const State& x) { return nocking_point(bow, x).y(); });
}

}  // namespace limbwright::models
