#include "models/states/torque_sensitivity.hpp"

#include <cmath>

#include "models/input/units.hpp"
#include "solver/system/sensitivity.hpp"

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
    constexpr double newton_metre = 1e3;  // N mm
    return newton_metre * solver::derivative_along(direction, state.state, number);
}

double arrow_yaw_forgiveness(const AssembledBow& bow, const DrawState& state) {
    return per_yaw_torque(state, [&](const State& x) { return arrow_yaw(bow, x); }) / units::degree;
}

double nock_travel_forgiveness(const AssembledBow& bow, const DrawState& state) {
    return per_yaw_torque(state, [&](const State& x) { return nocking_point(bow, x).y(); });
}

}  // namespace limbwright::models
