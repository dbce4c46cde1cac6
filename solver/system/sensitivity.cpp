#include "solver/system/sensitivity.hpp"

#include <stdexcept>

#include "solver/system/assembly.hpp"

namespace limbwright::solver {

FactoredState::FactoredState(const System& system, const State& state, std::span<const int> held)
    : state_(state), factor_(system.shared_plan()) {
    BlockMatrix tangent(system.shared_plan());
    VecX sizes;
    assemble(system, state, gradient_, sizes, tangent);
    if (!factor_.factor(tangent, held))
        throw std::runtime_error(
            "part of the structure is free to move in one of the states: its tangent has no inverse, and no "
            "derivative can be told");
}

VecX FactoredState::slope(const System& more, const System& less, double h) const {
    return answer((total_gradient(less, state_) - total_gradient(more, state_)) / (2 * h));
}

State FactoredState::along(const VecX& slope, double change) const {
    return moved(state_, VecX(change * slope));
}

}  // namespace limbwright::solver
