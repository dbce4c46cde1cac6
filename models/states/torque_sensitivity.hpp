#pragma once

#include <functional>

#include "models/states/draw.hpp"

/// How a state answers a torque of the hand, the nocking point held.
namespace limbwright::models {

/// Direction of the arrow's line, nocking point to rest, in the riser's axes.
[[nodiscard]] Vec3 arrow_line(const AssembledBow& bow, const solver::State& state);

/// Yaw of the arrow's line in the world [rad], positive when it points left.
[[nodiscard]] double arrow_yaw(const AssembledBow& bow, const solver::State& state);

/// Change of a number read off the state per newton-metre of hand yaw torque: its derivative along
/// `DrawState::yaw_torque_effect`. NaN where that is not known.
[[nodiscard]] double per_yaw_torque(const DrawState& state,
                                    const std::function<double(const solver::State&)>& number);

/// Change of the arrow line's yaw [deg/(N m)], positive left.
[[nodiscard]] double arrow_yaw_forgiveness(const AssembledBow& bow, const DrawState& state);

/// Change of the nocking point's lateral place in the riser's frame [mm/(N m)], positive left.
[[nodiscard]] double nock_travel_forgiveness(const AssembledBow& bow, const DrawState& state);

}  // namespace limbwright::models
