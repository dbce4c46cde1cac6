#pragma once

#include "solver/elements/element.hpp"

/// Short names for what elements touch.
namespace limbwright::testing {

inline solver::Touch node(int i) {
    return {.node = solver::NodeId(i)};
}
inline solver::Touch point(int i) {
    return {.point = solver::PointId(i)};
}
inline solver::Touch scalar(int i) {
    return {.scalar = solver::ScalarId(i)};
}

}  // namespace limbwright::testing
